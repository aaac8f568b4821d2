"""Guides can be told apart by everybody: by their colours as they are seen, or by their lines.

Sources: colour differences in CIE 1976 L*a*b* (CIE 15) and the matrices of G. Machado, M. Oliveira
and L. Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency" (2009),
at full severity, both as the library colorspacious has them. The least difference that is noticed
is 2.3 (M. Mahy, L. Van Eycken, A. Oosterlinck, 1994); three times that is asked for, as lines are
thin.
"""

from collections.abc import Iterable
from functools import cache
from itertools import combinations

import numpy as np
import pytest
from support.catalogue import GUIDES
from support.laid_out_pages import issue, layers, plans
from support.reference import reference

from guidekit.layers.model import Layer
from guidekit.raster.shapes import Area, Clip, Rule, Shape, Stroke
from guidekit.raster.text import Text

ENOUGH = 3 * 2.3
EYES = [None, "protanomaly", "deuteranomaly", "tritanomaly"]
#: Of one colour: the legend has those of all others, and ruler guides are no layer.
SINGLE = [name for name in GUIDES if name not in ("legend", "ruler_guides")]
SHOWN = dict.fromkeys(SINGLE, "shown")
#: A page, its cover and a scroll on which, together, every guide has something to show.
PAGE = {
    "tiers": [3, 2],
    "guides": SHOWN,
    "perspective": {"horizon": "40 %", "points": ["20 %", "120 %"]},
}
FORMAT = {"square_grid": "50 px", "fold_strip": "20 px"}
SCROLL = {"scroll": [{"height": "2 screens"}], "guides": SHOWN}
BOOK = {
    "binding": {"kind": "perfect", "caliper": "1 mm"},
    "cover": {"spine": "100 px", "barcode": True},
}


@cache
def guides() -> dict[str, Layer]:
    """The layer of every guide."""
    page, cover = plans(issue(PAGE, format=FORMAT, **BOOK))
    (scroll,) = plans(issue(SCROLL, preset="vertical-scroll"))
    found = layers(scroll) | layers(cover) | layers(page)
    return {name: found[GUIDES[name].layer] for name in SINGLE}


def lab(layer: Layer, eyes: str | None) -> np.ndarray:
    """A guide's colour on white paper in L*a*b*, as these eyes see it."""
    convert = reference("colorspacious").cspace_convert
    share = layer.opacity / 255
    colour = (np.array(layer.colour) / 255) * share + (1 - share)
    if eyes:
        deficient = {"name": "sRGB1+CVD", "cvd_type": eyes, "severity": 100}
        colour = np.clip(convert(colour, deficient, "sRGB1"), 0, 1)
    seen: np.ndarray = convert(colour, "sRGB1", "CIELab")
    return seen


def patterns(shapes: Iterable[Shape]) -> set[object]:
    """How shapes look but for colour: text, a tint, ruled or slanted lines with their dash."""
    found: set[object] = set()
    for shape in shapes:
        if isinstance(shape, Clip):
            found |= patterns(shape.shapes)
        elif isinstance(shape, Text):
            found.add("text")
        elif isinstance(shape, Rule):
            thin = min(shape.box.width, shape.box.height) <= 8
            found.add(("ruled", shape.dash) if thin else "tint")
        elif isinstance(shape, Stroke):
            straight = any(abs(a - b) < 1e-6 for a, b in zip(shape.start, shape.end, strict=True))
            found.add(("ruled" if straight else "slanted", shape.dash))
        else:
            assert isinstance(shape, Area)
            found.add("tint")
    return found


@pytest.mark.parametrize("eyes", EYES)
@pytest.mark.parametrize(("first", "second"), [*combinations(SINGLE, 2)])
def test_any_two_guides_can_be_told_apart(first: str, second: str, eyes: str | None) -> None:
    """Any two guides differ in colour to these eyes, or no line of one is like one of the other."""
    one, other = guides()[first], guides()[second]
    difference = np.linalg.norm(lab(one, eyes) - lab(other, eyes))
    assert difference >= ENOUGH or not patterns(one.shapes) & patterns(other.shapes)


@pytest.mark.parametrize("eyes", EYES)
@pytest.mark.parametrize("name", SINGLE)
def test_every_guide_shows_on_white_paper(name: str, eyes: str | None) -> None:
    """Every guide differs from white paper, to all eyes."""
    white = reference("colorspacious").cspace_convert([1, 1, 1], "sRGB1", "CIELab")
    assert np.linalg.norm(lab(guides()[name], eyes) - white) >= ENOUGH


@pytest.mark.parametrize(("first", "second"), [*combinations(SINGLE, 2)])
def test_any_two_guides_can_be_told_apart_in_grey(first: str, second: str) -> None:
    """In a grey file any two guides differ by their lines, or by 20 of 255 steps of grey.

    ITU-R BT.709 luma, which is how the formats write grey.
    """
    one, other = guides()[first], guides()[second]
    if patterns(one.shapes) & patterns(other.shapes):
        assert abs(grey(one) - grey(other)) >= 20


def grey(layer: Layer) -> float:
    """A guide as grey on white paper, 0 to 255."""
    luma = float(np.dot(layer.colour, (0.2126, 0.7152, 0.0722)))
    return 255 - (255 - luma) * layer.opacity / 255


def test_the_reference_is_the_published_one() -> None:
    """The library's simulation is the published one: the first row for protanopia, from memory."""
    red = reference("colorspacious").cspace_convert(
        [1.0, 0.0, 0.0],
        {"name": "sRGB1-linear+CVD", "cvd_type": "protanomaly", "severity": 100},
        "sRGB1-linear",
    )
    assert red == pytest.approx([0.152286, 0.114503, -0.003882], abs=1e-6)
