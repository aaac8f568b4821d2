"""Layouts, panels and letters that are not there, or that name each other in a circle."""

from typing import Any

import pytest
from support.laid_out_pages import page, refusal

SPLASH = {"panels": "splash"}
FIRST = "pages[2] (page 2), "


def said(layout: dict[str, Any], **keys: Any) -> str:
    """What is said of page 2 of a book."""
    return refusal(SPLASH, layout, **keys)


CIRCLES = {
    "itself": ({"a": {"panels": "a"}}, "a.panels", "a → a"),
    "each other": (
        {"a": {"tiers": [1, "b"]}, "b": {"columns": ["a", 1]}},
        "b.columns[1].panels",
        "a → b → a",
    ),
    "three": (
        {"a": {"tiers": ["b"]}, "b": {"tiers": ["c"]}, "c": {"tiers": [2, "b"]}},
        "c.tiers[2].panels",
        "b → c → b",
    ),
}


@pytest.mark.parametrize(("layouts", "where", "circle"), CIRCLES.values(), ids=CIRCLES)
def test_layouts_in_a_circle(layouts: dict[str, Any], where: str, circle: str):
    """Layouts that name each other in a circle are refused, and the circle is shown."""
    assert said({"panels": "a"}, layouts=layouts) == (
        f"{FIRST}layouts.{where}: layouts name each other in a circle ({circle}). "
        "Allowed: layouts that end in panels. Change one of them."
    )


def test_an_unknown_layout():
    """A layout that is not there is refused, with the nearest that is."""
    text = said({"tiers": [1, "nine-gird"]})
    assert text.startswith(f'{FIRST}tiers[2].panels: there is no layout "nine-gird". Allowed: ')
    assert text.endswith('. Did you mean "nine-grid"?')


UNKNOWN = {
    "number": ({"tiers": [2]}, {"3": {}}, 'panel.3: there is no such panel', "1 to 2"),
    "nought": ({"tiers": [2]}, {"0": {}}, 'panel.0: there is no such panel', "1 to 2"),
    "letter": ({"map": "A B"}, {"C": {}}, 'panel.C: there is no such panel', "A or B"),
    "no number": ({"tiers": [2]}, {"first": {}}, 'panel.first: there is no such panel', "1 to 2"),
}  # fmt: skip


@pytest.mark.parametrize(("layout", "panel", "text", "known"), UNKNOWN.values(), ids=UNKNOWN)
def test_unknown_panels(layout: dict[str, Any], panel: dict[str, Any], text: str, known: str):
    """What is said of a panel that is not there is refused, with those that are."""
    assert said(layout | {"panel": panel}) == f"{FIRST}{text} on the page. Allowed: {known}."


def test_unknown_panels_below_an_inset():
    """An inset over a panel that is not there is refused, and all such panels are told at once."""
    inset = {"over": [1, 7, "x"], "width": "1 in", "height": "1 in", "corner": "top-left"}
    assert said({"tiers": [2], "insets": [inset]}) == "\n".join(
        f'{FIRST}insets[1].over: there is no panel "{name}" on the page. Allowed: 1 to 2.'
        for name in ("7", "x")
    )


def test_a_letter_that_two_maps_share():
    """A letter of two maps on a page names no single panel, and is refused."""
    maps = {"tiers": [{"map": "A B"}, {"map": "A C"}]}
    assert "panel.A: " in said(maps | {"panel": {"A": {"border": False}}})
    plan = page(maps | {"panel": {"C": {"border": False}}})
    assert [panel.border is None for panel in plan.panels] == [False, False, False, True]


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_digits_in_a_map(direction: str):
    """A digit in a map names the panel that is drawn with it, whichever way pages are read."""
    plan = page({"map": "1 2", "panel": {"1": {"border": False}}}, direction=direction)
    (left,) = [panel for panel in plan.panels if panel.box.left == 60]
    assert left.border is None
