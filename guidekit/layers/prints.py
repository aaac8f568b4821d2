"""Fingerprints of layers: by them a layer is known again in a file that other programs saved.

What programs keep of a layer is its pixels, whatever they do to its rectangle, its name and the way
it is packed. So a print is of the coverage alone, cut to what is covered, and of the colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import Any, NamedTuple

import numpy as np

from guidekit.layers.model import Group, Layer, Stack
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.shapes import Shape, cover

TO_DRAW_ON = "layers_to_draw_on"  # the key of an info
_SAME = np.arange(256, dtype=np.uint8)


class Print(NamedTuple):
    """Where a layer or mask covers its canvas (the smallest box), and a digest of how."""

    box: Box
    sha256: str


def print_of(coverage: Bands) -> Print:
    """The print of a coverage with values from 0 to 255; an empty one has an empty box."""
    found = coverage.cropped()
    return _print_of_tidy(found if found.box.is_empty else found.mapped(_SAME))


def _print_of_tidy(coverage: Bands) -> Print:
    """The same of bands without equal neighbours, which can be told in one way only."""
    if coverage.box.is_empty:
        return Print(Box(0, 0, 0, 0), "")
    parts = [coverage.tops, coverage.first, coverage.starts, coverage.values.astype(np.uint8)]
    told = sha256(
        b"".join([f"{coverage.box.as_list()}".encode(), *(_bytes(part) for part in parts)])
    )
    return Print(coverage.box, told.hexdigest()[:32])


def _bytes(part: Any) -> bytes:
    whole: bytes = part.tobytes() if part.itemsize == 1 else part.astype("<i4").tobytes()
    return whole


@remembered
def _print_of_shapes(shapes: tuple[Shape, ...], canvas: Box) -> Print:
    return _print_of_tidy(cover(shapes, canvas))  # which is tidy


def prints(stack: Stack) -> list[dict[str, Any]]:
    """Every layer with something on it and every mask, the uppermost first, as plain data.

    ``name`` has the names of the groups round it and its own, ``box`` left, top, right, bottom on
    the canvas; ``colour`` and ``opacity`` are those of a layer, and what has none is the mask of a
    group; ``hidden`` stands with a layer that is not shown.
    """
    return [*_prints(stack.members, stack.canvas, [])]


def _prints(
    members: tuple[Layer | Group, ...], canvas: Box, groups: list[str]
) -> Iterator[dict[str, Any]]:
    for member in members:
        name = [*groups, member.name]
        if isinstance(member, Group):
            if member.mask:
                yield {"name": name, **_told(_print_of_shapes(member.mask, canvas))}
            yield from _prints(member.members, canvas, name)
        elif member.shapes:
            found = _print_of_shapes(member.shapes, canvas)
            colour = "#{:02x}{:02x}{:02x}".format(*member.colour)
            look = {"colour": colour, "opacity": member.opacity}
            yield {"name": name, **_told(found), **look, **_hidden(member)}


def _hidden(layer: Layer) -> dict[str, bool]:
    return {} if layer.visible else {"hidden": True}


def _told(found: Print) -> dict[str, Any]:
    return {"box": found.box.as_list(), "sha256": found.sha256}


def whole_info(stack: Stack) -> dict[str, Any]:
    """What programs may want to read of a stack, the prints of its layers, and those to draw on."""
    if not stack.info:
        return {}
    blank = [list(name) for name in blank_names(stack.members)]
    return {**stack.info, "layers": prints(stack), TO_DRAW_ON: blank}


def blank_names(members: Iterable[Layer | Group]) -> Iterator[tuple[str, ...]]:
    """The names of layers to draw on, each behind those of its groups."""
    for member in members:
        if isinstance(member, Layer):
            yield from [] if member.shapes else [(member.name,)]
        else:
            yield from ((member.name, *name) for name in blank_names(member.members))


def info_key(info: dict[str, Any]) -> str:
    """A name for what is drawn on a canvas before anybody draws: equal ones look the same."""
    told = [info.get("plan"), *([x["name"], x["sha256"], x.get("colour")] for x in info["layers"])]
    return sha256(repr(told).encode(errors="backslashreplace")).hexdigest()[:32]
