"""What files of the first release do not tell, worked out from the boxes that they do.

They have no prints of their layers. Borders and masks follow from the boxes of panels, where these
are straight and their corners are not rounded; so do trim, safe area and bleed, which stay if they
are as today's are.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidekit.drawn.ours.wants import Want
from guidekit.layers.model import Stack, all_layers
from guidekit.layers.prints import Print, print_of
from guidekit.plane.box import Box
from guidekit.raster.shapes import Area, Rule, Shape, cover


def first_wants(page: dict[str, Any], stack: Stack) -> Iterator[Want]:
    """Borders, masks and paper of a page whose info has no prints, in the colours of `stack`."""
    colours = {layer.name: layer.colour for layer in all_layers(stack.members)}
    panels, border = page.get("panels", []), page.get("border", 0)
    canvas = Box(0, 0, *page["canvas"])
    yield Want(("Paper",), _print(Rule(canvas), canvas=canvas), colours["Paper"])
    if not panels or any("corners" in panel or "radius" in panel for panel in panels):
        return
    lines = tuple(_border(panel, border) for panel in panels)
    ink = colours["Panel borders"]
    yield Want(("Panel borders",), _print(*lines, canvas=canvas), ink)
    for panel in panels:
        area = _panel(panel)
        yield Want((f"Panel {panel['number']}",), _print(area, canvas=canvas))


def _print(*shapes: Shape, canvas: Box) -> Print:
    return print_of(cover(shapes, canvas))


def _cut_out(panel: dict[str, Any]) -> tuple[Shape, ...]:
    return tuple(Rule(Box(*box)) for box in panel.get("cut_out", []))


def _panel(panel: dict[str, Any]) -> Shape:
    return Area((Rule(Box(*panel["box"])),), _cut_out(panel))


def _border(panel: dict[str, Any], weight: int) -> Shape:
    """The ruled line inside a panel; none along edges that run to the bleed."""
    left, top, right, bottom = panel["box"]
    bleed = panel.get("bleed", ())
    inner = Box(
        left + weight * ("left" not in bleed),
        top + weight * ("top" not in bleed),
        right - weight * ("right" not in bleed),
        bottom - weight * ("bottom" not in bleed),
    )
    return Area((Rule(Box(left, top, right, bottom)),), (Rule(inner), *_cut_out(panel)))
