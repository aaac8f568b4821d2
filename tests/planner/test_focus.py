"""Who works by keys or hears the planner never loses the place, whatever is drawn anew."""

import pytest
from support.long import shortened
from support.planning import Tab


def focused(tab: Tab) -> str:
    """The label or the words of what has the focus."""
    found: str = tab.page.evaluate(
        "(e => e.getAttribute('aria-label') ?? e.textContent)(document.activeElement)"
    )
    return found


def press(tab: Tab, words: str) -> str:
    """Press a button by keys; what has the focus then."""
    tab.page.get_by_role("button", name=words, exact=True).focus()
    tab.key("Enter")
    return focused(tab)


def test_the_focus_stays_in_the_book(tab: Tab) -> None:
    """After a change the focus is on the page that was made, or where it was, or close to it."""
    assert press(tab, "copy it").startswith("Page 2")
    assert press(tab, "take it away") == "take it away"
    assert press(tab, "Undo") == "Undo"
    assert press(tab, "Undo").startswith("Page 1"), "nothing is left to undo"


def test_the_focus_stays_on_a_page(salt_road: Tab) -> None:
    """A page begins at its heading; what is pressed keeps the focus, or its panel has it."""
    tab, page = salt_road, salt_road.page
    tab.open(3)
    assert focused(tab) == "Page 5"
    assert press(tab, "The next page") == "The next page"
    assert press(tab, "The page before") == "The page before"
    page.locator("[data-panel='1']").first.focus()
    tab.key("Enter")
    assert press(tab, "side by side") == "side by side"
    page.locator("[data-panel='2']").first.focus()
    tab.key("Shift+Enter")
    assert press(tab, "Join them into one").startswith("Panel 1")
    page.locator("summary", has_text="Guides of this page").click()
    page.get_by_label("thirds", exact=True).focus()
    tab.key("s", "Tab", "Shift+Tab")
    assert focused(tab) == "thirds"


@pytest.mark.parametrize("value", shortened(["6 in", "9 mm"], ["9 mm"]))
def test_windows_keep_the_focus_and_are_told(tab: Tab, value: str) -> None:
    """A value that is changed in a window leaves the focus on the next one; what is told stands in
    the window, the only place that can be reached; closed, it gives the focus back.
    """
    press(tab, "The issue")
    assert focused(tab) == "The issue and its format"
    field = tab.page.locator(".value input").nth(1)
    field.focus()
    field.fill(value)
    following = tab.page.locator(".value input").nth(2).get_attribute("aria-label")
    tab.key("Tab")
    assert focused(tab) == following
    assert tab.page.inner_text("dialog .status") + tab.page.inner_text("dialog .alert")
    tab.key("Escape")
    assert focused(tab) == "The issue"
