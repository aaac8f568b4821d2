"""What a page says of its panels, under the numbers that they have after a change.

A number on a page is that of a panel in its layout and the number of insets that are read before
it; see `guidekit.issue.numbering`. A letter stays a letter.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guidekit.plane.box import Box
from guidekit.planner.edits.spots import Values


def moved_to(old: Mapping[int, Box], new: Mapping[int, Box]) -> dict[int, int]:
    """For each panel of a layout the one that has most of its place afterwards."""
    found: dict[int, int] = {}
    for number, box in old.items():
        shared = {other: _area(box.clipped(place)) for other, place in new.items()}
        taken = {*found.values()}  # triangles have one box together
        best = max(shared, key=lambda other: (shared[other], other not in taken, -other))
        if shared[best]:
            found[number] = best
    return found


def _area(box: Box) -> int:
    return box.width * box.height


def renamed(page: Values, printed: Mapping[int, int], moved: Mapping[int, int]) -> Values:
    """The page with its ``panel`` tables and insets under new numbers.

    `printed` has the numbers on the page before, by number in the layout; `moved` the number in
    the layout afterwards. What is said of panels that are gone goes with them, of two that became
    one the word of the first counts.
    """
    if "panel" not in page and "insets" not in page:
        return page
    inside = {str(number): layout for layout, number in printed.items()}

    def layout_of(name: Any) -> int | None:
        return moved.get(inside.get(str(name), 0))

    insets, over = [], []
    for inset in page.get("insets", []):
        names = inset["over"] if isinstance(inset["over"], list) else [inset["over"]]
        places = [layout_of(name) if str(name) in inside else name for name in names]
        kept = list(dict.fromkeys(place for place in places if place is not None))
        if kept:
            insets.append((inset, kept))
            over.append(max((place for place in kept if isinstance(place, int)), default=0))

    def number(layout: int) -> int:
        return layout + sum(1 for last in over if 0 < last < layout)

    def named(place: Any) -> Any:
        return number(place) if isinstance(place, int) else place

    panels: Values = {}
    for name, said in page.get("panel", {}).items():
        if name not in inside:
            panels.setdefault(name, said)
        elif (layout := layout_of(name)) is not None:
            panels.setdefault(str(number(layout)), said)
    changed = dict(page)
    if "panel" in page:
        changed["panel"] = panels
    if "insets" in page:
        changed["insets"] = [
            inset | {"over": named(kept[0]) if len(kept) == 1 else [named(place) for place in kept]}
            for inset, kept in insets
        ]
    return {
        name: value for name, value in changed.items() if value or name not in ("panel", "insets")
    }
