"""What insets cut out of the panels, gutters and earlier insets below them, in pixels."""

import numpy as np
import pytest
from support.inset_pages import inset, splash
from support.laid_out_pages import outlines, page, pixels, polygon


def test_the_margin_is_cut_out_of_what_lies_below() -> None:
    """Round an inset runs a gutter, even through the border below; beyond, nothing changes."""
    layout = splash(inset(at=["0 px", "200 px"], gutter="10 px"))  # box (60, 260, 160, 340)
    plan = page(layout)
    ink, tint = pixels(plan, "Panel borders"), pixels(plan, "Gutters")
    expected = np.zeros_like(ink)
    expected[60:780, 60:580] = 255
    expected[64:776, 64:576] = 0
    expected[250:350, 50:170] = 0
    expected[260:340, 60:160] = 255
    expected[264:336, 64:156] = 0
    assert np.array_equal(ink, expected)
    ring = np.zeros_like(tint)
    ring[250:350, 60:170] = 255
    ring[260:340, 60:160] = 0
    assert np.array_equal(tint, ring)


def test_later_insets_lie_over_earlier_ones() -> None:
    """A second inset cuts its margin out of the first, as out of the panel below."""
    first = inset(at=["100 px", "100 px"])  # (160, 160, 260, 240)
    second = inset(at=["160 px", "140 px"], gutter="6 px")  # (220, 200, 320, 280)
    plan = page(splash(first, second))
    ink, tint = pixels(plan, "Panel borders"), pixels(plan, "Gutters")
    assert not ink[194:286, 214:220].any()
    assert ink[200:280, 220:224].all()
    assert ink[160:164, 160:260].all()
    assert ink[160:194, 256:260].all()
    assert not ink[194:200, 256:260].any(), "the first inset's border ends at the second's margin"
    assert tint[194:286, 214:220].all()
    assert not tint[204:276, 224:316].any()


def test_an_inset_over_a_gutter() -> None:
    """An inset over two panels hides the gutter between them."""
    layout = {"tiers": [2], "insets": [inset(over=[1, 2], at=["40 %", "300 px"], width="20 %")]}
    tint = pixels(page(layout), "Gutters")  # box (268, 360, 372, 440), margin 10 px
    assert tint[349, 315:325].all()
    assert tint[355, 258:382].all()
    assert not tint[360:440, 268:372].any()


@pytest.mark.parametrize(("radius", "gutter"), [("20 px", "10 px"), ("12 px", "0 px")])
def test_rounded_insets(radius: str, gutter: str) -> None:
    """A rounded inset has a rounded margin: all that is nearer to it than its gutter."""
    plan = page(splash(inset(at=["50 px", "50 px"], radius=radius, gutter=gutter)))
    shape = outlines(plan)[1]
    r, g = int(radius.split()[0]), int(gutter.split()[0])
    assert 100 * 80 - shape.area == pytest.approx(r * r * (4 - np.pi), rel=0.01)
    (hole,) = plan.panels[0].cut_out
    grown = shape.buffer(g, quad_segs=200)  # shapely (GEOS), an independent geometry library
    assert polygon(hole).symmetric_difference(grown).area < grown.length / 50


def test_insets_have_the_page_s_radius() -> None:
    """An inset that names no radius has the page's, like any panel."""
    plan = page(splash(inset(), inset(corner="top-right", radius="0 px"), radius="15 px"))
    areas = [100 * 80 - shape.area for shape in outlines(plan)[1:]]
    assert areas == pytest.approx([225 * (4 - np.pi), 0], rel=0.01)


def test_borders_of_insets() -> None:
    """An inset has its own weight of border, or none."""
    plan = page(splash(inset(border="9 px"), inset(corner="bottom-right", border=False)))
    ink = pixels(plan, "Panel borders")
    assert [x for x in range(66, 180) if ink[110, x]] == [*range(74, 83), *range(165, 174)]
    assert not ink[686:766, 466:566].any()


def test_the_number_below_is_still_seen() -> None:
    """A panel with an inset in its upper left corner still shows its own number."""
    numbers = pixels(page(splash(inset())), "Panel numbers")
    numbers[74:154, 74:174] = 0
    assert numbers.any()
