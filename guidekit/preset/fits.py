"""Whether the values of a preset go together: sizes that hold each other, layers that are there."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from guidekit.errors import Problem, nearest, one_of, shown
from guidekit.units import half_up

if TYPE_CHECKING:
    from guidekit.preset.model import Preset
    from guidekit.preset.sizes import Edges

#: The longest edge of a canvas, in pixels; few programs open longer ones.
LARGEST_EDGE = 300_000
MOST_SQUARES = 2_000  # of the square grid, along the page's longer edge


def problems_of(preset: Preset) -> Iterator[Problem]:
    """What does not fit together in a preset that is sound value by value."""
    yield from _of_groups(preset)
    yield from _of_scroll(preset)
    yield from _of_grid(preset)
    for axis, near, far in (("width", "inside", "outside"), ("height", "top", "bottom")):
        yield from _along(preset, axis, near, far)


def _of_grid(preset: Preset) -> Iterator[Problem]:
    size, grid = preset.page_size, preset.square_grid.px(preset.dpi)
    longest = max(size.width.px(preset.dpi), size.height.px(preset.dpi))
    least = max(4, half_up(longest / MOST_SQUARES))
    if 0 < grid < least:
        came = f"{preset.square_grid} is less than {least} px"
        yield Problem(("square_grid",), came, f"at least {least} px, or 0 px for none")


def _of_groups(preset: Preset) -> Iterator[Problem]:
    names = [layer.name for layer in preset.drawing]
    for i, name in enumerate(preset.panel_groups):
        if name not in names:
            came = f"{shown(name)} is not one of the drawing layers"
            todo = nearest(name, names)
            yield Problem(("panel_groups", i), came, one_of(map(shown, names)), todo)
    above: dict[str, str | None] = {}
    for i, layer in enumerate(preset.drawing):
        if layer.group and above.setdefault(layer.group, layer.above) != layer.above:
            came = f"the group {layer.group} is in part above the borders"
            allowed = "drawing layers of one group that are all above the borders, or none"
            yield Problem(("drawing", i), came, allowed)


def _of_scroll(preset: Preset) -> Iterator[Problem]:
    scroll, dpi = preset.scroll, preset.dpi
    if not scroll:
        return
    if preset.sheet:
        yield Problem(("sheet",), "a scroll has no sheet", todo="Leave it out.")
    if any(_edges(preset.bleed, ("top", "bottom", "inside", "outside"), dpi)):
        yield Problem(("bleed",), "a scroll has no bleed", todo="Leave it out.")
    if not 0 < scroll.delivery_width.px(dpi) <= scroll.width.px(dpi):
        came = f"{scroll.delivery_width} is not a part of the width"
        allowed = f"more than 0 and at most {scroll.width}"
        yield Problem(("scroll", "delivery_width"), came, allowed)
    if scroll.screen.px(dpi) < 1:
        yield Problem(
            ("scroll", "screen"), f"{scroll.screen} is less than a pixel", "at least 1 px"
        )


def _along(preset: Preset, axis: str, near: str, far: str) -> Iterator[Problem]:
    """What does not fit from the `near` edge to the `far` one."""
    dpi = preset.dpi
    key = ("trim", axis)
    if preset.scroll:
        key = ("scroll", "width" if axis == "width" else "canvas_height")
    trim = getattr(preset.page_size, axis).px(dpi)
    bleed = _edges(preset.bleed, (near, far), dpi)
    canvas = trim + sum(bleed)
    if trim < 1:
        came = f"the page's {axis} is less than a pixel"
        yield Problem(key, came, "at least 1 px")
    elif sum(_edges(preset.safe_area, (near, far), dpi)) >= trim:
        came = f"safe_area {near} and {far} together are as much as the page's {axis}, or more"
        allowed = f"less than the {axis} for both together"
        yield Problem(("safe_area",), came, allowed, also=(key,))
    if preset.sheet:
        sheet = getattr(preset.sheet, axis).px(dpi)
        if sheet < trim + 2 * max(bleed):  # the trim lies in its middle
            came = f"the sheet's {axis} does not hold the trim and its bleed"
            also = (key, ("bleed",))
            yield Problem(("sheet", axis), came, f"a larger {axis} of the sheet", also=also)
        canvas = max(canvas, sheet)
    if canvas > LARGEST_EDGE:
        came = f"the canvas would be {half_up(canvas):,} px in {axis} at {dpi} dpi"
        allowed = f"at most {LARGEST_EDGE:,} px"
        todo = f"Take a smaller {axis} or a lower dpi: {allowed}."
        yield Problem(key, came, allowed, todo, also=(("sheet",), ("bleed",), ("dpi",)))


def _edges(edges: Edges, names: tuple[str, ...], dpi: int) -> list[Fraction]:
    return [getattr(edges, name).px(dpi) for name in names]
