"""What there is to choose from, and where it is from: what the lists of the command line show."""

from __future__ import annotations

from guidekit.layers.guides.kind import Guide
from guidekit.planner.picture import Data
from guidekit.preset.guides import STATES
from guidekit.shipped import OWNER
from guidekit.studio.catalogue import Studio


def choices_data(studio: Studio) -> Data:
    """Page formats, file formats and guides by name, and what was left out of them in warnings.

    ``from`` is empty for what comes with guidekit; a page format that is wrong has a ``problem``.
    """
    from guidekit.studio.lists.rows import preset_rows  # asked for behind the first picture

    known = studio.catalogue
    writers = known.writers.entries.values()
    return {
        "presets": [row | {"from": brought_by(row["from"])} for row in preset_rows(studio)],
        "formats": [
            {"name": entry.name, "about": entry.about, "from": brought_by(entry.owner)}
            for entry in writers
        ],
        "guides": [  # what a plug-in brings is not run before an issue names it
            _guide(entry.name, None if brought_by(entry.owner) else entry.thing)
            for entry in known.guides.entries.values()
        ],
        "warnings": [*studio.warnings],
    }


def _guide(name: str, guide: Guide | None) -> Data:
    """A guide, its states and which it has where nothing switches it, if that is known."""
    if not guide:
        return {"name": name, "state": None, "states": STATES}
    return {"name": name, "state": guide.state, "states": guide.states}


def brought_by(owner: str) -> str:
    """Who brought a thing, for people; nobody where it comes with guidekit."""
    return "" if owner.partition(",")[0] == OWNER else owner
