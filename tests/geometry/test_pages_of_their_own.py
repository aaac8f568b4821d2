"""Pages that differ from the rest: their own safe area, paper, borders, and panels that run out."""

from typing import Any

import pytest
from support.laid_out_pages import FRAME, boxes, issue, layers, page, pixels, plans, refusal

from guidekit.geometry.measure import measured
from guidekit.layers.palette import WHITE

TIERS: dict[str, Any] = {"tiers": [2, 1]}


def test_safe_area() -> None:
    """Panels fill the safe area of their own page; that of the next is the preset's."""
    own = {"top": "30 px", "bottom": "50 px", "inside": "10 px", "outside": "20 px"}
    first, second = plans(issue(TIERS | {"safe_area": own}, TIERS))
    assert measured(first)["safe_area"] == [30, 50, 600, 770]
    assert boxes(first)[2] == [30, 418, 600, 770]
    assert measured(second)["safe_area"] == FRAME
    assert first.boxes.trim == second.boxes.trim


def test_safe_area_of_a_left_page_and_of_a_spread() -> None:
    """Inside and outside change places on a left page, and on a spread lie at its ends."""
    own = {"safe_area": {"inside": "10 px", "outside": "50 px", "top": "0 px", "bottom": "0 px"}}
    left = page(TIERS, TIERS | own)
    assert left.boxes.safe_area.as_list() == [70, 20, 610, 820]
    spread = page(TIERS, {"panels": "splash", "spread": True} | own)
    assert boxes(spread) == [[70, 20, 1170, 820]]


def test_black_page() -> None:
    """A page has its own paper, on which borders are ruled in white; the others stay white."""
    black, white = plans(issue(TIERS | {"paper": "#101010"}, TIERS))
    assert layers(black)["Paper"].colour == (16, 16, 16)
    assert layers(black)["Panel borders"].colour == WHITE
    assert layers(white)["Paper"].colour == WHITE


def test_without_borders() -> None:
    """No panel of the page is ruled, but for those that say so, with the preset's weight or one."""
    panel = {"2": {"border": True}, "3": {"border": "1 px"}}
    plan = page(TIERS | {"borders": False, "panel": panel})
    assert [p.border and p.border.weight for p in plan.panels] == [None, 4, 1]
    assert not any(p.border for p in page(TIERS | {"borders": False}).panels)
    thick = page(TIERS | {"borders": "9 px", "panel": {"2": {"border": False}}})
    assert [p.border and p.border.weight for p in thick.panels] == [9, None, 9]


def test_full_bleed() -> None:
    """Every panel runs out on each side on which it lies at the edge of the page."""
    plan = page(TIERS | {"bleed": "all"})
    assert boxes(plan) == [[0, 0, 315, 412], [325, 0, 640, 412], [0, 428, 640, 840]]
    assert not pixels(plan, "Panel borders")[:400, 0].any()


def test_one_panel_of_a_full_bleed_page_stays() -> None:
    """What a panel says of itself counts before what its page says."""
    plan = page(TIERS | {"bleed": ["top", "outside"], "panel": {"2": {"bleed": []}}})
    assert boxes(plan) == [[60, 0, 315, 412], [325, 60, 580, 412], [60, 428, 640, 780]]


@pytest.mark.parametrize(("pages", "out"), [((), [0, 315]), ((TIERS,), [0, 315])])
def test_fixed_sides(pages: tuple[dict[str, Any], ...], out: list[int]) -> None:
    """Left is left on right pages and on left ones, whichever of them is the inside."""
    plan = page(*pages, TIERS | {"panel": {"1": {"bleed": "left"}}})
    assert plan.panels[0].bleed == {"left"}
    assert [plan.panels[0].box.left, plan.panels[0].box.right] == out


def test_fixed_sides_of_a_mirrored_layout() -> None:
    """In right-to-left books the first panel of a tier lies on the right, and has no left."""
    plan = page(TIERS | {"panel": {"1": {"bleed": "right"}}}, direction="rtl")
    assert plan.panels[0].box.right == 640
    text = refusal(TIERS | {"panel": {"1": {"bleed": "left"}}}, direction="rtl")
    assert text == (
        'page 1, pages[1].panel.1.bleed: "left" is not a side on which this panel lies at the edge '
        'of the page. Write "right" or "top".'
    )


@pytest.mark.parametrize(
    ("layout", "said"),
    [
        (
            TIERS | {"safe_area": "300 px"},
            "page 1, pages[1].safe_area: safe_area inside and outside together are as much as the "
            "page's width, or more. Write less than the width for both together.",
        ),
        (
            TIERS | {"bleed": "3 mm"},
            "pages[1].bleed: the width of the bleed is one for all pages. Write bleed under "
            "[format], or format.bleed, for its width; here sides on which all panels there run "
            'out, such as "all".',
        ),
        (
            {"tiers": [{"empty": True}, 1], "bleed": "top"},
            "page 1, pages[1].bleed: no panel lies at the edge of the page there. Leave it out.",
        ),
        (
            TIERS | {"paper": "black"},
            'pages[1].paper: "black" is not a colour. Write six hexadecimal digits, as in '
            '"#ffffff".',
        ),
    ],
)
def test_wrong(layout: dict[str, Any], said: str) -> None:
    """What does not fit is told at its key, with what would do."""
    assert refusal(layout) == said
