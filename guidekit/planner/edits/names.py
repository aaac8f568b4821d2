"""What a page says of its panels, under the numbers that they have after a change.

A number on a page is that of a panel in its layout and the number of insets that are read before
it; see `guidekit.issue.numbering`. A letter stays a letter.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from guidekit.plane.box import Box
from guidekit.planner.edits.spots import Values

#: What names panels in an inset.
NAMING = ("over", "read_after", "read_before")


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

    def kept(name: Any) -> Any:
        """A panel of the layout afterwards, the letter that it is, or None if it is gone."""
        return layout_of(name) if str(name) in inside else name

    insets = [found for inset in page.get("insets", []) if (found := _kept(inset, kept))]
    behind = [last for inset in insets if (last := _read_behind(inset)) is not None]

    def number(layout: int) -> int:
        return layout + sum(1 for last in behind if last < layout)

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
            {key: _each(said, named) if key in NAMING else said for key, said in inset.items()}
            for inset in insets
        ]
    return {
        name: value for name, value in changed.items() if value or name not in ("panel", "insets")
    }


def _each(said: Any, change: Callable[[Any], Any]) -> Any:
    """What names one panel or several, changed; one alone stands without a list."""
    if not isinstance(said, list):
        return change(said)
    found = list(dict.fromkeys(new for one in said if (new := change(one)) is not None))
    return found[0] if len(found) == 1 else found or None


def _kept(inset: Values, kept: Callable[[Any], Any]) -> Values | None:
    """An inset with the panels that are left; None if none of those is that it lay over."""
    named = {key: _each(said, kept) if key in NAMING else said for key, said in inset.items()}
    if "over" in named and named["over"] is None:
        return None
    return {key: said for key, said in named.items() if said is not None}


def _read_behind(inset: Values) -> int | None:
    """The panel of the layout behind which an inset is read; None if last, or not by number."""
    before, after = inset.get("read_before"), inset.get("read_after", inset.get("over"))
    if before is not None:
        return before - 1 if isinstance(before, int) else None
    places = after if isinstance(after, list) else [after]
    return max((place for place in places if isinstance(place, int)), default=None)
