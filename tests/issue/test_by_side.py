"""Pages alike that differ by their side only."""

from typing import Any

import pytest
from support.laid_out_pages import boxes, issue, plans, refusal

TIERS: dict[str, Any] = {"count": 4, "tiers": [2, 1]}


def test_a_layout_for_each_side() -> None:
    """Each page of the entry has the layout of its side, in reading order."""
    sides = {"on_left": {"panels": "tall-left-and-two"}, "on_right": {"panels": "two-tiers"}}
    found = plans(issue({"count": 4} | sides))
    assert [plan.side for plan in found] == ["right", "left", "right", "left"]
    assert [len(plan.panels) for plan in found] == [2, 3, 2, 3]


def test_what_is_not_said_of_a_side_is_that_of_both() -> None:
    """Tables go into each other, and a layout replaces the layout of both with all its shares."""
    left = {"note": "L", "panel": {"1": {"bleed": "left"}}}
    page = {"tiers": [2, 1], "heights": [2, 1], "panel": {"3": {"border": False}}, "count": 2}
    right, turned = plans(issue(page | {"on_left": left}))
    assert (right.note, turned.note) == ("", "L")
    assert [right.panels[0].bleed, turned.panels[0].bleed] == [frozenset(), {"left"}]
    assert right.panels[2].border is turned.panels[2].border is None
    shares = plans(issue(page | {"on_left": {"heights": [1, 2]}}))
    assert boxes(shares[0])[0][3] > boxes(shares[1])[0][3]
    other = plans(issue(page | {"on_left": {"columns": [1, 2]}}))
    assert len(other[1].panels) == 3


def test_right_to_left() -> None:
    """In a right-to-left book page 1 is a left page."""
    found = plans(issue(TIERS | {"on_left": {"paper": "#101010"}}, direction="rtl"))
    assert [p.book.furniture.paper for p in found] == ["#101010", "#ffffff"] * 2


@pytest.mark.parametrize(
    ("page", "said"),
    [
        (
            TIERS | {"on_left": {"panel": {"1": {"bleed": "right"}}}},
            'page 2, pages[1].on_left.panel.1.bleed: "right" is not a side on which this panel '
            'lies at the edge of the page. Write "left" or "top".',
        ),
        (
            TIERS | {"panel": {"3": {"radius": "4 mm"}}, "on_left": {"panels": "splash"}},
            'page 2, pages[1].panel.3: there is no panel "3" on the page. Write 1.',
        ),
        (
            TIERS | {"on_right": {"radius": 3}},
            "pages[1].on_right.radius: 3 has no unit. "
            'Write "3 mm", or another unit: cm, in, pt or px.',
        ),
        (
            TIERS | {"on_right": {"count": 3, "spread": True}},
            "pages[1].on_right.count: count holds for left and right pages alike. Write it beside "
            "on_right, or leave it out.\n"
            "pages[1].on_right.spread: spread holds for left and right pages alike. Write it "
            "beside on_right, or leave it out.",
        ),
        (
            {"scroll": [{"height": "9 px"}], "on_right": {}},
            "pages[1].on_right: a scroll is neither a left page nor a right one. "
            "Leave on_right out.",
        ),
        (
            TIERS | {"on_left": "splash"},
            'pages[1].on_left: "splash" is not a table. Write a table, as in '
            '{ panels = "splash" }.',
        ),
    ],
)
def test_wrong(page: dict[str, Any], said: str) -> None:
    """What is wrong is told once, where it stands: with its side, or with what both have."""
    assert refusal(page) == said


def test_a_format_without_sides() -> None:
    """Where pages do not face each other none is a left or a right one."""
    text = refusal(TIERS | {"on_left": {"note": "x"}}, format={"facing": False})
    assert text.startswith("pages[1]: this preset has no facing pages, so that none is a left")


def test_no_mistake_is_told_twice() -> None:
    """A mistake of both sides stands in one place, and is told there once."""
    text = refusal(TIERS | {"radius": 3, "on_left": {"note": "a"}, "on_right": {"note": "b"}})
    assert text.count("\n") == 0
    assert text.startswith("pages[1].radius: 3 has no unit")
