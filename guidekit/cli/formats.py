"""``guidekit formats``: what a build can write."""

from __future__ import annotations

from guidekit.cli.around import studio_of
from guidekit.cli.options import AsJson
from guidekit.cli.say import origin, print_json, say


def formats(as_json: AsJson = False) -> None:
    """List the file formats that build can write.

    Example: guidekit formats
    """
    with studio_of() as studio:
        entries = studio.catalogue.writers.entries.values()
        rows = [{"name": x.name, "about": x.about, "from": x.owner} for x in entries]
    if as_json:
        print_json({"formats": rows})
        return
    for row in rows:
        say(f"{row['name']:12} {row['about']}{origin(row)}")
