"""Shapes of their own, where they lie and what they cut out, beside shapely (GEOS).

The panel of a splash is (60, 60, 580, 780), 520 × 720 pixels; the gutter across is 10 pixels, the
border 4. The trim is (20, 20, 620, 820), the canvas (0, 0, 640, 840).
"""

from math import pi
from typing import Any

import pytest
from support.free_pages import ARROW, STAR, seen
from support.laid_out_pages import FRAME, boxes, outlines, page, pixels, polygon, refusal
from support.reference import reference

from guidekit.geometry.measure import measured
from guidekit.plane.box import Box

TWO = {"tiers": [2, 1]}  # (60, 60, 315, 412), (325, 60, 580, 412), (60, 428, 580, 780)
PLACE = {"at": ["100 px", "200 px"], "width": "200 px", "height": "120 px"}


def laid(**keys: Any) -> dict[str, Any]:
    """A splash with one inset measured within the frame."""
    return {"panels": "splash", "insets": [{"within": "frame"} | keys]}


def own(number: int = 1, **keys: Any) -> dict[str, Any]:
    """Three panels, one of which has a shape of its own."""
    return TWO | {"panel": {str(number): keys}}


@pytest.mark.parametrize(
    ("keys", "box"),
    [
        (PLACE, [160, 260, 360, 380]),
        (PLACE | {"within": "trim"}, [120, 220, 320, 340]),
        (PLACE | {"within": "bleed", "at": ["-50 px", "90 %"]}, [-50, 756, 150, 876]),
        ({"at": ["50 %", "25 %"], "width": "40 %"}, [320, 240, 528, 960]),
        ({"corner": "bottom-right", "width": "10 %", "height": "72 px"}, [528, 708, 580, 780]),
        ({"ellipse": True}, FRAME),
        ({"within": "trim", "points": [["0 %", "0 %"], ["50 %", "10 px"], ["0 px", "100 %"]]},
         [20, 20, 320, 820]),
    ],
)  # fmt: skip
def test_places(keys: dict[str, Any], box: list[int]) -> None:
    """An inset is measured within an area of the page; what is not given is all of it."""
    assert boxes(page(laid(**keys)))[1] == box


def test_across_the_fold() -> None:
    """On a spread the frame runs across the fold, and so does what is measured in it."""
    keys = laid(at=["40 %", "10 %"], width="20 %", height="10 %", tilt="12 deg") | {"spread": True}
    plan = page({"panels": "splash"}, keys)
    fold, box = plan.boxes.fold, plan.panels[1].box
    assert fold is not None
    assert box.left < fold < box.right
    assert abs(box.left + box.right - 2 * fold) <= 1


@pytest.mark.parametrize("tilt", [8, -31, 90, 180])
def test_tilt(tilt: int) -> None:
    """A tilt turns the place about its middle as the clock runs, as shapely turns it."""
    affinity = reference("shapely.affinity")
    box = reference("shapely").box(160, 260, 360, 380)
    found = outlines(page(laid(**PLACE, tilt=f"{tilt} deg")))[1]
    # y runs downward on the page: there shapely's positive angle is the clock's
    assert (found ^ affinity.rotate(box, tilt, "center")).area < 0.01


@pytest.mark.parametrize("tilt", [0, 25])
def test_ellipse(tilt: int) -> None:
    """An ellipse fills its place; no chord leaves the curve by more than a fiftieth of a pixel."""
    plan = page(laid(**PLACE, ellipse=True, tilt=f"{tilt} deg"))
    shape = outlines(plan)[1]
    assert shape.area == pytest.approx(pi * 100 * 60, rel=1e-3)
    affinity = reference("shapely.affinity")
    unit = affinity.scale(affinity.rotate(shape, -tilt, (260, 320)), 1 / 100, 1 / 60, 1, (260, 320))
    radii = [
        ((x - 260) ** 2 + (y - 320) ** 2) ** 0.5 for x, y in unit.segmentize(0.01).exterior.coords
    ]
    assert max(abs(radius - 1) for radius in radii) * 100 < 0.02
    told = measured(plan)["panels"][1]
    assert told["ellipse"] == {"middle": [260, 320], "radii": [100, 60], "tilt": tilt}


@pytest.mark.parametrize(
    ("keys", "corners", "taken"),
    [({"cut_corners": "20 px"}, 8, 4 * 200), ({"stepped_corners": "20 px"}, 12, 4 * 400)],
)
def test_corners(keys: dict[str, Any], corners: int, taken: int) -> None:
    """Corners are cut off or stepped in by a length along each side."""
    plan = page(laid(**PLACE, **keys))
    sharp = plan.panels[1].sharp
    assert not isinstance(sharp, Box)
    assert len(sharp) == corners
    assert outlines(plan)[1].area == 200 * 120 - taken
    assert len(measured(plan)["panels"][1]["corners"]) == corners


def test_points_are_whole_pixels() -> None:
    """Corners lie on whole pixels, so that level and upright sides are exact."""
    points = [["10.03 %", "5 %"], ["90 %", "5 %"], ["90 %", "1.001 in"], ["10.03 %", "40 %"]]
    plan = page(laid(**PLACE, points=points))
    assert plan.panels[1].sharp == ((180, 266), (340, 266), (340, 360), (180, 308))
    assert plan.panels[1].sharp == tuple(map(tuple, measured(plan)["panels"][1]["corners"]))


SHAPES: dict[str, dict[str, Any]] = {
    "tilted": {"tilt": "17 deg"},
    "dented": {"points": ARROW},
    "star": {"points": STAR, "tilt": "-9 deg"},
    "ellipse": {"ellipse": True, "tilt": "40 deg"},
    "rounded": {"radius": "24 px", "tilt": "5 deg"},
    "stepped": {"stepped_corners": "20 px", "radius": "6 px"},
}


@pytest.mark.parametrize("gutter", [0, 9, 25])
@pytest.mark.parametrize("name", SHAPES)
def test_the_margin_goes_round_the_true_shape(name: str, gutter: int) -> None:
    """All that is seen of a panel below keeps the gutter's distance, and nothing more is cut.

    At corners the margin goes on to a mitre of at most four times the gutter.
    """
    plan = page(laid(**PLACE, **SHAPES[name], gutter=f"{gutter} px"))
    below, shape = seen(plan.panels[0]), outlines(plan)[1]
    assert below.distance(shape) >= gutter - 0.03
    (hole,) = plan.panels[0].cut_out
    more = polygon(hole) - shape.buffer(gutter + 0.03, quad_segs=200)
    assert shape.buffer(4 * gutter + 0.01).contains(polygon(hole))
    if name in ("ellipse", "rounded"):
        assert more.area < 0.1


@pytest.mark.parametrize("name", SHAPES)
def test_borders_lie_inside(name: str) -> None:
    """The border is as wide as it should be all round, measured across."""
    panel = page(laid(**PLACE, **SHAPES[name])).panels[1]
    assert panel.border
    assert panel.border.inner
    outer, inner = polygon(panel.border.outer), polygon(panel.border.inner)
    assert outer.contains(inner)
    assert outer.exterior.distance(inner) == pytest.approx(4, abs=0.03)
    assert (outer.buffer(-4, join_style="mitre") ^ inner).area < 1


@pytest.mark.parametrize(
    ("levels", "cut"),
    [((0, 0), [True, True, False]), ((1, 0), [True, False, True]), ((0, -1), [True, False, True]),
     ((-1, -1), [False, True, True])],
)  # fmt: skip
def test_levels(levels: tuple[int, int], cut: list[bool]) -> None:
    """What has a higher level cuts the lower; at one level the later cuts the earlier.

    An inset below the panels is seen where none of them is: here in the margin.
    """
    first, second = ({"within": "frame", "level": level} for level in levels)
    at = {"at": ["-5 %", "10 %"], "width": "30 %", "height": "20 %"}
    plan = page(
        {
            "panels": "splash",
            "insets": [first | at, second | at | {"at": ["-9 %", "20 %"]}],
        }
    )
    assert [bool(panel.cut_out) for panel in plan.panels] == cut


@pytest.mark.parametrize("level", [0, -1])
def test_a_tilted_panel_of_the_layout(level: int) -> None:
    """A tilted panel lies over its neighbours, or by its level under them, with the gutter kept."""
    plan = page(own(2, tilt="9 deg", level=level))
    assert [bool(panel.cut_out) for panel in plan.panels] == (
        [True, False, True] if not level else [False, True, False]
    )
    areas = [*map(seen, plan.panels)]
    assert areas[1].distance(areas[0]) == pytest.approx(10, abs=0.01)
    assert areas[1].distance(areas[2]) == pytest.approx(10, abs=0.01)


def test_a_panel_with_no_neighbour_over_it_is_alone() -> None:
    """A shape within its own place cuts nothing, whatever the gutter."""
    plan = page(own(1, points=STAR))
    assert not any(panel.cut_out for panel in plan.panels)
    assert plan.panels[0].box.as_list() == [60, 60, 315, 412]


def test_at_the_bleed() -> None:
    """A panel that runs to the bleed has its shape there, and no line where it leaves the page."""
    plan = page(own(3, cut_corners="30 px", bleed="all"))
    panel = plan.panels[2]
    assert panel.box.as_list() == [0, 428, 640, 840]
    ink = pixels(plan, "Panel borders")
    assert ink[428:432, 320].all()
    assert not ink[600:, :4].any()
    assert not ink[836:, 320].any()


def test_figures() -> None:
    """A figure belongs to its panel's mask and to no border; only with a gutter it cuts others."""
    cat = {"name": "Falling cat", "points": [["10 %", "20 %"], ["30 %", "-30 %"], ["60 %", "20 %"]]}
    plan = page(own(3, figures=[cat]))
    shape = polygon(plan.panels[2].figures[0].outline)
    assert shape.difference(seen(plan.panels[2])).area < 0.01
    assert not plan.panels[0].cut_out
    ink, tint = (pixels(plan, name) for name in ("Panel borders", "Gutters"))
    assert not ink[428:432, 180:200].any()
    assert not tint[415:425, 195].any()
    assert ink[408:412, 195].all(), "the neighbour keeps its border"
    with_gutter = page(own(3, figures=[cat | {"gutter": "7 px"}]))
    assert seen(with_gutter.panels[0]).distance(shape) == pytest.approx(7, abs=0.01)
    told = measured(plan)["panels"][2]["figures"]
    assert told == [
        {"name": "Falling cat", "box": [112, 322, 372, 498],
         "corners": [[112, 498], [216, 322], [372, 498]]}
    ]  # fmt: skip


def test_a_figure_of_a_round_panel_that_runs_out() -> None:
    """Corners at the bleed stay sharp in all that the panel cuts out, however narrow they are."""
    cat = {"name": "Falling cat", "ellipse": True, "gutter": "5 px"}
    layout = {"triangles": "falling", "bleed": "all", "panel": {"1": {"figures": [cat]}}}
    upper, lower = (seen(panel) for panel in page(layout, format={"radius": "8 px"}).panels)
    assert upper.distance(lower) == pytest.approx(5, abs=0.03)


WRONG: list[tuple[dict[str, Any], str]] = [
    (
        own(points=[["0 %", "0 %"], ["50 %", "50 %"], ["50 %", "0 %"], ["0 %", "50 %"]]),
        "panel.1.points: this shape crosses or touches itself. Write its corners in the order in "
        "which a pen would go round it.",
    ),
    (
        own(points=[["0 %", "0 %"], ["1 in", "0 %"], ["2 in", "0 %"]]),
        "panel.1.points: these points lie on one line. Write points that have an area",
    ),
    (own(points=[["0 %", "0 %"], ["1 in", "0 %"]]), "is no list of points. Write at least three"),
    (own(points=STAR, ellipse=True), "panel.1.ellipse: points and ellipse are both here."),
    (own(ellipse=True, radius="1 mm"), "panel.1.radius: an ellipse has no corners to round."),
    (own(cut_corners="130 px"), "corners of 130 px are too large for 255 × 352 px."),
    (own(points=STAR, border="1 in"), "panel.1.border: 100 px of border leave nothing of"),
    (own(tilt="181 deg"), 'is not a tilt. Write an angle from "-180 deg" to "180 deg"'),
    (own(tilt=8), 'panel.1.tilt: 8 is not a tilt. Write an angle'),
    (own(points=[["0 px", "0 px"], ["1 px", "0 px"], ["0 px", "1 px"]]), "are less than a pixel."),
    (laid(**PLACE | {"width": "0.4 px"}, tilt="9 deg"), "0 × 120 px are less than a pixel."),
    (laid(**PLACE | {"height": "0.4 px"}, ellipse=True), "200 × 0 px are less than a pixel."),
    (
        own(points=[["900 %", "0 %"], ["990 %", "0 %"], ["900 %", "9 %"]]),
        "panel.1: nothing of the shape [2355, 60, 2585, 92] lies on the canvas [0, 0, 640, 840]. "
        "Move it, or turn it less.",
    ),
    (
        own(figures=[{"name": "Cat"}]),
        "panel.1.figures[1]: no shape of this figure is here. Write points, ellipse = true, or",
    ),
    (laid(**PLACE, over=1), "insets[1]: both over and within are here."),
    (laid(), "insets[1]: neither a place nor a shape of its own is here."),
    (laid(width="9 %", height="9 %"), "insets[1]: neither corner nor at is here."),
    (
        laid(at=["-70 px", "20 %"], width="10 px", height="400 px"),
        "insets[1]: nothing of the shape [-10, 204, 0, 604] lies on the canvas",
    ),
    (
        laid(at=["0 %", "0 %"], width="100 %", height="100 %"),
        "insets[1]: this leaves nothing of panel 1, which lies below. Make it smaller, move it, or "
        "give it a lower level.",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("layout", "told"), WRONG, ids=[told[:40] for _, told in WRONG])
def test_wrong_shapes(layout: dict[str, Any], told: str) -> None:
    """Shapes that cannot be are told by page and panel, with what would do."""
    text = refusal(layout)
    assert told in text
    assert "pages[1]." in text
