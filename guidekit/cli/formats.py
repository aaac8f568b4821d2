"""``guidekit formats``: what a build can write."""

from __future__ import annotations

from guidekit.cli.options import AsJson
from guidekit.cli.say import print_json, say


def formats(as_json: AsJson = False) -> None:
    """List the file formats that build can write.

    Example: guidekit formats
    """
    from guidekit.shipped import shipped

    entries = shipped().writers.entries.values()
    rows = [{"name": entry.name, "about": entry.about} for entry in entries]
    if as_json:
        print_json({"formats": rows})
        return
    for row in rows:
        say(f"{row['name']:12} {row['about']}")
