"""Empty places: as large as panels would be, numbered by nothing, neither panel nor gutter."""

from typing import Any

import pytest
from hypothesis import assume, given
from support.laid_out_pages import FRAME, boxes, outlines, page, pixels, polygon, refusal
from support.random_pages import ROOM, with_empty_places
from support.reference import reference

from guidekit.errors import InputError
from guidekit.geometry.measure import measured
from guidekit.plane.outline import box_of

LARGE = {
    "dpi": 150,
    "trim": {"width": f"{ROOM + 300} px", "height": f"{ROOM + 300} px"},
    "safe_area": "100 px",
    "gutter": {"across": "2 mm", "down": "0.1 in"},
}
TITLE = {"tiers": [{"empty": True, "height": "80 px"}, 2, 1]}


@given(with_empty_places())
def test_others_lie_as_if_a_panel_were_there(both: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """Panels beside empty places have the boxes that they have beside panels.

    Empty places hold what those would, and nothing overlaps.
    """
    shapely = reference("shapely")
    try:
        plan = page(both[0], format=LARGE)
    except InputError as error:
        assume("no panel is on this page" not in str(error))
        raise
    full = page(both[1], format=LARGE)
    assert set(map(tuple, boxes(plan))) <= set(map(tuple, boxes(full)))
    empty = [polygon(place) for place in plan.empty]
    parts = [*empty, *outlines(plan)]
    assert shapely.union_all(parts).area == pytest.approx(sum(part.area for part in parts))
    gone = [p.outline for p in full.panels if p.box.as_list() not in boxes(plan)]
    left_over = shapely.union_all([*map(polygon, gone)]) - shapely.union_all(empty)
    assert left_over.area == 0


def test_a_title_place() -> None:
    """An empty tier at the top takes its height and a gutter, and the panels begin below it."""
    plan = page(TITLE)
    assert boxes(plan) == [[60, 156, 315, 460], [325, 156, 580, 460], [60, 476, 580, 780]]
    assert measured(plan)["empty"] == [[60, 60, 580, 140]]
    tint = pixels(plan, "Gutters")
    assert tint[140:156, 60:580].all()
    assert not tint[60:140].any()


def test_no_gutter_round_an_empty_place() -> None:
    """With gutters of its list an empty place has the panels right beside it."""
    plan = page({"columns": [1, {"empty": True, "width": 1}, 1], "gutters": ["0 px", "0 px"]})
    assert [box_of(place).as_list() for place in plan.empty] == [[233, 60, 407, 780]]
    assert boxes(plan) == [[60, 60, 233, 780], [407, 60, 580, 780]]


@pytest.mark.parametrize(
    ("letters", "area"),
    [
        (". . .\nA A A", [60, 60, 580, 412]),
        (". A A\n. A A\n. . B", [60, 60, 403, 780]),
    ],
)
def test_dots_that_join_are_one_place(letters: str, area: list[int]) -> None:
    """Empty cells of a map that join along edges are one place, without gutters in between."""
    (place,) = page({"map": letters}).empty
    assert box_of(place).as_list() == area


def test_dots_all_round_a_panel_are_as_many_places() -> None:
    """So the gutter round a panel in the middle stays one."""
    plan = page({"map": ". . .\n. A .\n. . ."})
    assert len(plan.empty) == 8
    (panel,) = outlines(plan)
    assert not any(polygon(place).intersects(panel) for place in plan.empty)


def test_in_slanted_parts() -> None:
    """Beside a slanted gutter an empty place ends where a panel would."""
    slanted = page({"columns": [{"empty": True}, 1], "slant": "10 deg"})
    full = page({"columns": [1, 1], "slant": "10 deg"})
    assert slanted.empty == (full.panels[0].outline,)
    assert slanted.panels[0].outline == full.panels[1].outline


def test_equal_to_the_pixel() -> None:
    """With spare_pixels = "margin" an empty place is as wide as the panels beside it."""
    plan = page({"columns": [1, {"empty": True}, 1]}, format={"spare_pixels": "margin"})
    widths = {box[2] - box[0] for box in [*boxes(plan), *(box_of(x).as_list() for x in plan.empty)]}
    assert len(widths) == 1


def test_gutters_at_the_bleed_end_at_an_empty_place() -> None:
    """Between two panels that run out, an empty place is no gutter beyond the frame either."""
    wishes = {"1": {"bleed": "all"}, "2": {"bleed": "all"}}
    plan = page({"columns": [1, {"empty": True}, 1], "panel": wishes})
    assert [box.as_list() for box in plan.frames] == [FRAME]


def test_in_a_scroll() -> None:
    """A place of a scroll may be partly empty, and wholly."""
    items = [
        {"height": "600 px"},
        {"height": "300 px", "inside": {"columns": [{"empty": True}, 1]}},
        {"height": "300 px", "inside": {"empty": True}},
    ]
    plan = page({"scroll": items}, preset="vertical-scroll")
    assert len(plan.panels) == 2
    assert len(plan.empty) == 2


@pytest.mark.parametrize(
    ("layout", "said"),
    [
        (
            {"tiers": [{"empty": True}, {"empty": True}]},
            "page 1, pages[1]: no panel is on this page, for all its places are empty. "
            "Write at least one panel.",
        ),
        (
            {"tiers": [1, {"empty": True, "gutter": "3 mm"}]},
            "pages[1].tiers[2].gutter: gutter and empty are both here, and an empty place has no "
            "parts. Leave gutter out.",
        ),
        (
            {"tiers": [1, {"empty": True, "panels": 2}]},
            "pages[1].tiers[2].empty: panels and empty are both here. "
            "Write one of panels, tiers, columns, map, triangles and empty.",
        ),
        (
            {"empty": True},
            "pages[1]: no panels are on this page. "
            "Write one of panels, tiers, columns, map and triangles.",
        ),
    ],
)
def test_what_cannot_be_empty(layout: dict[str, Any], said: str) -> None:
    """A whole page is never empty, and an empty place has nothing in it."""
    assert refusal(layout) == said
