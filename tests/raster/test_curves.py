"""Curves as edges: the area that letters fill is that of their outlines."""

import numpy as np
import pytest
from support.planes import plane
from support.reference import reference

from guidekit.plane.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.curves import TOLERANCE, edges_of
from guidekit.raster.face import Contour
from guidekit.raster.fill import fill_edges
from guidekit.raster.font import STANDARD
from guidekit.raster.text import Text, contours, cover_text

CIRCLE = 0.5522847498  # handles of four curves that make a circle, to 0.03 %; common knowledge


def circle(x: float, y: float, r: float, turn: int = 1) -> Contour:
    """A circle of four curves; `turn` −1 runs the other way round."""
    k = CIRCLE * r
    quarters = [
        ((r, k), (k, r), (0, r)),
        ((-k, r), (-r, k), (-r, 0)),
        ((-r, -k), (-k, -r), (0, -r)),
        ((k, -r), (r, -k), (r, 0)),
    ]
    parts = (tuple((x + a, y + turn * b) for a, b in part) for part in quarters)
    return Contour((x + r, y), tuple(parts))


@pytest.mark.parametrize("r", [0.4, 3.3, 40, 700])
def test_edges_keep_to_the_curve(r: float) -> None:
    """No corner of the edges, nor the middle of one, is farther from the circle than is allowed."""
    start, end = edges_of([circle(2, 3, r)])
    for points in (start, (start + end) / 2):
        away = np.hypot(points[:, 0] - 2, points[:, 1] - 3) - r
        assert np.abs(away).max() <= TOLERANCE + 0.0003 * r


def test_a_ring() -> None:
    """A circle that runs the other way round inside another is a hole, by area π (R² − r²)."""
    canvas = Box(0, 0, 100, 100)
    ring = fill_edges(*edges_of([circle(50, 50, 40), circle(50, 50, 20, -1)]))
    assert plane(ring, canvas).sum() / 255 == pytest.approx(np.pi * (1600 - 400), rel=0.003)
    assert plane(ring, canvas)[50, 50] == 0


def test_what_overlaps_is_filled_once() -> None:
    """Two circles that run the same way fill their union, by shapely."""
    shapely = reference("shapely")
    both = shapely.Point(40, 50).buffer(30, 256).union(shapely.Point(65, 50).buffer(30, 256))
    filled = fill_edges(*edges_of([circle(40, 50, 30), circle(65, 50, 30)]))
    assert plane(filled, Box(0, 0, 100, 100)).sum() / 255 == pytest.approx(both.area, rel=0.003)


def test_strips_are_seamless() -> None:
    """A letter so large that it is filled in strips is the small one, enlarged."""
    large = fill_edges(*edges_of(contours("§", 6000)))
    small = fill_edges(*edges_of(contours("§", 600)))
    assert large.box.height > 4 * 512
    assert area(large) == pytest.approx(100 * area(small), rel=0.001)


def area(bands: Bands) -> float:
    """Covered pixels."""
    heights = np.repeat(bands.heights, np.diff(bands.first))
    return float((bands.lengths * heights * bands.values.astype(float)).sum() / 255)


@pytest.mark.parametrize("letter", "OWg&é塩の")
def test_area_of_letters(letter: str) -> None:
    """The ink of a letter is the area that fontTools computes from the file."""
    ttlib, area_pen = reference("fontTools.ttLib"), reference("fontTools.pens.areaPen")
    for font in STANDARD:
        file = ttlib.TTFont(font.path)
        if ord(letter) in (cmap := file.getBestCmap()):
            break
    glyphs = file.getGlyphSet()
    pen = area_pen.AreaPen(glyphs)
    glyphs[cmap[ord(letter)]].draw(pen)
    first = ttlib.TTFont(STANDARD[0].path)
    size = 400 / first["glyf"]["H"].yMax * first["head"].unitsPerEm
    expected = abs(pen.value) * (size / file["head"].unitsPerEm) ** 2
    drawn = cover_text(Text(letter, 300, 300, 400), Box(0, 0, 1500, 1500))
    assert area(drawn) == pytest.approx(expected, rel=0.01)
