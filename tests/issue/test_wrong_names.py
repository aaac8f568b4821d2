"""Layouts, panels and letters that are not there, or that name each other in a circle."""

from typing import Any

import pytest
from support.laid_out_pages import page, refusal

SPLASH = {"panels": "splash"}
FIRST = "page 2, "


def said(layout: dict[str, Any], **keys: Any) -> str:
    """What is said of page 2 of a book."""
    return refusal(SPLASH, layout, **keys)


CIRCLES = {
    "itself": ({"a": {"panels": "a"}}, "a.panels", "a → a"),
    "each other": (
        {"a": {"tiers": [1, "b"]}, "b": {"columns": ["a", 1]}},
        "b.columns[1]",
        "a → b → a",
    ),
    "three": (
        {"a": {"tiers": ["b"]}, "b": {"tiers": ["c"]}, "c": {"tiers": [2, "b"]}},
        "c.tiers[2]",
        "b → c → b",
    ),
}


@pytest.mark.parametrize(("layouts", "where", "circle"), CIRCLES.values(), ids=CIRCLES)
def test_layouts_in_a_circle(layouts: dict[str, Any], where: str, circle: str) -> None:
    """Layouts that name each other in a circle are refused, and the circle is shown."""
    assert said({"panels": "a"}, layouts=layouts) == (
        f"{FIRST}layouts.{where}: layouts name each other in a circle ({circle}). "
        "Change one of them."
    )


def test_an_unknown_layout() -> None:
    """A layout that is not there is refused, with the nearest that is."""
    text = said({"tiers": [1, "nine-gird"]})
    assert text == (
        f'{FIRST}pages[2].tiers[2]: there is no layout "nine-gird". Did you mean "nine-grid"?'
    )


UNKNOWN = {
    "number": ({"tiers": [2]}, "3", "a number from 1 to 2"),
    "nought": ({"tiers": [2]}, "0", "a number from 1 to 2"),
    "letter": ({"map": "A B"}, "C", "A or B"),
    "no number": ({"tiers": [2]}, "first", "a number from 1 to 2"),
}


@pytest.mark.parametrize(("layout", "name", "known"), UNKNOWN.values(), ids=UNKNOWN)
def test_unknown_panels(layout: dict[str, Any], name: str, known: str) -> None:
    """What is said of a panel that is not there is refused, with those that are."""
    assert said(layout | {"panel": {name: {}}}) == (
        f'{FIRST}pages[2].panel.{name}: there is no panel "{name}" on the page. Write {known}.'
    )


def test_unknown_panels_below_an_inset() -> None:
    """An inset over a panel that is not there is refused, and all such panels are told at once."""
    inset = {"over": [1, 7, "x"], "width": "1 in", "height": "1 in", "corner": "top-left"}
    assert said({"tiers": [2], "insets": [inset]}) == "\n".join(
        f'{FIRST}pages[2].insets[1].over: there is no panel "{name}" on the page. '
        "Write a number from 1 to 2."
        for name in ("7", "x")
    )


def test_a_letter_that_two_maps_share() -> None:
    """A letter of two maps on a page names no single panel, and is refused."""
    maps = {"tiers": [{"map": "A B"}, {"map": "A C"}]}
    assert "panel.A: " in said(maps | {"panel": {"A": {"border": False}}})
    plan = page(maps | {"panel": {"C": {"border": False}}})
    assert [panel.border is None for panel in plan.panels] == [False, False, False, True]


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_digits_in_a_map(direction: str) -> None:
    """A digit in a map names the panel that is drawn with it, whichever way pages are read."""
    plan = page({"map": "1 2", "panel": {"1": {"border": False}}}, direction=direction)
    (left,) = [panel for panel in plan.panels if panel.box.left == 60]
    assert left.border is None
