"""What is held by the pointer on a page, and by keys: gutters, their ends, lines half drawn."""

from pathlib import Path

import pytest
from support.long import long
from support.planning import START, Tab


@long
def test_a_gutter_is_held_where_another_ends(tab: Tab, issue: Path) -> None:
    """The end of an upright gutter does not cover the level one that it meets; what is measured is
    what is there, after Undo too.
    """
    tab.save(issue, START.replace('panels = "splash"', "tiers = [2, 1]"))
    tab.open(0)
    level, measure = tab.page.locator(".edge.down"), tab.page.locator(".measure")
    level.focus()
    told = measure.inner_text()
    tab.draw((2062, 3150), (2062, 3600))  # the canvas is 4125 px wide
    assert "heights" in issue.read_text("utf-8")
    assert "slant" not in issue.read_text("utf-8")
    assert measure.inner_text() != told
    tab.key("Control+z")
    assert measure.inner_text() == told


@long
@pytest.mark.parametrize(("slant", "key", "then"), [(50, "]", 51), (50, "[", 49), (-50, "[", -51)])
def test_a_gutter_leans_by_a_degree(tab: Tab, issue: Path, slant: int, key: str, then: int) -> None:
    """A key turns a gutter by one degree, however much it leans already."""
    page = f'tiers = [{{ panels = 2, slant = "{slant} deg" }}, 1, 1]'
    tab.save(issue, START.replace('panels = "splash"', page))
    tab.open(0)
    tab.page.locator(".edge.across").focus()
    tab.key(key)
    assert f'slant = "{then} deg"' in issue.read_text("utf-8")


def test_escape_lets_go_of_what_is_held(tab: Tab, issue: Path) -> None:
    """A line that is half drawn is let go by Escape, and nothing is changed."""
    tab.open(0)
    tab.page.mouse.move(*tab.point(600, 3000))
    tab.page.mouse.down()
    tab.page.mouse.move(*tab.point(3000, 3000), steps=4)
    assert tab.page.locator(".pencil").count() == 1
    tab.key("Escape")
    tab.page.mouse.up()
    tab.settle()
    assert tab.page.locator(".sheet").count() == 1
    assert issue.read_text("utf-8") == START


def test_an_inset_stays_chosen_where_its_number_changes(tab: Tab, issue: Path) -> None:
    """An inset that is dragged over other panels is counted anew, is still the one that is held,
    and is the one that keys act on then.
    """
    inset = 'insets = [{ over = 3, width = "2 in", height = "2 in", at = ["1 in", "1 in"] }]'
    tab.save(issue, START.replace('panels = "splash"', f"tiers = [2, 1]\n{inset}"))
    tab.open(0)
    box = tab.page.locator(".inset")
    box.click()
    tab.draw((1500, 4500), (1500, 1500))  # from panel 3 to panel 1
    assert "over = 1" in issue.read_text("utf-8")
    assert box.get_attribute("data-panel") == "2"
    assert box.get_attribute("aria-pressed") == "true"
    assert tab.page.evaluate("document.activeElement.dataset.panel") == "2"
    tab.key("Delete")
    assert "insets" not in issue.read_text("utf-8")
