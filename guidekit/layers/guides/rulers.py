"""Ruler guides: positions to which a drawing app snaps, in place of a layer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.draw import state_of
from guidekit.layers.guides.kind import Guide, GuideInput
from guidekit.layers.model import Rulers
from guidekit.plane.outline import Outline, points_of
from guidekit.raster.shapes import Shape
from guidekit.registry import Registry

RULER_GUIDES = "ruler_guides"  # a file has them, or it has them not: no layer can be hidden
NOISE = 1e-6  # of a pixel


def ruler_guides(given: GuideInput) -> Iterator[Shape]:
    """No shapes, and so no layer: where they lie is said by `rulers`."""
    return iter(())


def rulers(page: PagePlan, guides: Registry[Guide]) -> Rulers:
    """Those of trim, safe area and panels, if the page has any; each position once, in order."""
    if RULER_GUIDES not in guides or state_of(guides.find(RULER_GUIDES), page) == "off":
        return (), ()
    outlines: list[Outline] = [box for one in page.boxes.pages for box in (one.trim, one.safe_area)]
    outlines += [panel.sharp for panel in page.panels if not panel.ellipse]
    canvas = page.boxes.canvas
    x, y = (sorted(set(_straight_edges(outlines, across))) for across in (0, 1))
    return (
        tuple(at for at in x if canvas.left <= at <= canvas.right),
        tuple(at for at in y if canvas.top <= at <= canvas.bottom),
    )


def _straight_edges(outlines: Iterable[Outline], across: int) -> Iterator[int]:
    """The x of upright edges, or with `across` 1 the y of level ones.

    An edge that leans has no place of its own, whatever the box round it; straight ones lie on
    whole pixels.
    """
    for outline in outlines:
        points = points_of(outline)
        for p, q in zip(points, points[1:] + points[:1], strict=True):
            straight = abs(p[across] - q[across]) < NOISE
            if straight and abs(p[1 - across] - q[1 - across]) >= 1:
                yield round(p[across])
