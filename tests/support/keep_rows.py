"""Keeps what is made of what comes with guidekit: ``python tests/support/keep_rows.py``.

Rows of all shipped presets and layouts, to be kept when one of them has changed, for lists are
quick only with rows of what is there; and the JSON Schemas, when a model has changed.
"""

from guidekit.listing import text_to_keep
from guidekit.schema.files import KINDS, schema_text
from guidekit.schema.kept_files import FOLDER
from guidekit.shipped import shipped, shipped_folder

if __name__ == "__main__":
    path = shipped_folder() / "listed.json"
    path.write_text(text_to_keep(path.parent, shipped()), "utf-8")
    for kind in KINDS:
        (FOLDER / f"{kind}.json").write_text(schema_text(kind), "utf-8")
