"""Keeps the rows of all shipped presets and layouts: ``python tests/support/keep_rows.py``.

To be run when one of them has changed, for lists are quick only with rows of what is there.
"""

from guidekit.listing import text_to_keep
from guidekit.shipped import shipped, shipped_folder

if __name__ == "__main__":
    path = shipped_folder() / "listed.json"
    path.write_text(text_to_keep(path.parent, shipped()), "utf-8")
