"""Several panels in one: what lies round them stays where it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import takewhile
from typing import Any

from guidekit.errors import InputError, Key, Problem
from guidekit.plane.box import Box, around
from guidekit.planner.edits.contents import without_contents
from guidekit.planner.edits.from_boxes import Units, content_of_boxes
from guidekit.planner.edits.spots import Spot, Values, at, with_at

#: With these, panels are no boxes, or gutters not alike.
NO_BOXES = ("slant", "slants", "bend", "bends", "gutters", "triangles")


def joined(
    page: Values,
    spots: Mapping[int, Spot],
    boxes: Mapping[int, Box],
    panels: Sequence[int],
    units: Units,
    gutter: int = 0,
) -> Values:
    """The page with some panels in one; they go by their numbers in the layout.

    All others are at least a `gutter` away, in pixels but for two. Raises `InputError` if they are
    no rectangle together, or if gutters lean among them or have lengths of their own.
    """
    whole = around(boxes[panel] for panel in panels)
    margin = whole.inset(-max(0, gutter - 2))
    others = [box for panel, box in boxes.items() if panel not in panels]
    if any(not margin.clipped(box).is_empty for box in others):
        came = "these panels do not make a rectangle together"
        raise InputError(Problem((), came, "panels that fill a rectangle"))
    if not spots.keys() >= {*panels}:
        raise InputError(Problem((), "triangles are not joined"))
    letters = [spots[panel].letter for panel in panels]
    path = _common([spots[panel].path for panel in panels])
    if all(letters) and all(spots[panel].path == path for panel in panels):
        words = at(page, path)["map"]
        for letter in letters[1:]:
            words = words.replace(letter, letters[0])
        return dict(with_at(page, (*path, "map"), words))
    part = at(page, path)
    if _leans(part):
        came = "gutters among these panels lean or bend, or have lengths of their own"
        raise InputError(Problem((), came, todo="Join others, or change it in the file."))
    inside = [panel for panel, spot in spots.items() if spot.path[: len(path)] == path]
    before = [boxes[panel] for panel in inside]
    after = [boxes[panel] for panel in inside if panel not in panels] + [whole]
    content = content_of_boxes(after, before, units)
    own = without_contents(part)
    if content == {"panels": 1} and path and not own:
        return dict(with_at(page, path, 1 if path[-1] != "halves" else content))
    return dict(with_at(page, path, own | content))


def _common(paths: Sequence[Key]) -> Key:
    """The path to the smallest part that holds all."""
    shared = [*takewhile(lambda names: len(set(names)) == 1, zip(*paths, strict=False))]
    path = tuple(names[0] for names in shared)
    return path[:-1] if path and isinstance(path[-1], str) else path


def _leans(part: Any) -> bool:
    if isinstance(part, dict):
        return any(name in NO_BOXES or _leans(said) for name, said in part.items())
    return isinstance(part, list) and any(map(_leans, part))
