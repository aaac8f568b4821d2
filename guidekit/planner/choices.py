"""What there is to choose from, and where it is from: what the lists of the command line show."""

from __future__ import annotations

from guidekit.planner.picture import Data
from guidekit.shipped import OWNER
from guidekit.studio.catalogue import Studio
from guidekit.studio.lists.rows import preset_rows


def choices_data(studio: Studio) -> Data:
    """Page formats, file formats and guides by name, and what was left out of them in warnings.

    ``from`` is empty for what comes with guidekit; a page format that is wrong has a ``problem``.
    """
    known = studio.catalogue
    writers = known.writers.entries.values()
    return {
        "presets": [row | {"from": brought_by(row["from"])} for row in preset_rows(studio)],
        "formats": [
            {"name": entry.name, "about": entry.about, "from": brought_by(entry.owner)}
            for entry in writers
        ],
        "guides": [*known.guides],
        "warnings": [*studio.warnings],
    }


def brought_by(owner: str) -> str:
    """Who brought a thing, for people; nobody where it comes with guidekit."""
    return "" if owner.partition(",")[0] == OWNER else owner
