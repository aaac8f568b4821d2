"""The planner by finger and by pen: pages as by mouse, and nothing of what is broken off."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.long import long
from support.planning import START, Tab, planned

pytestmark = long

Place = tuple[float, float]
PAGE = START.replace('panels = "splash"', "tiers = [2, 1]")
TOUCH = {"down": "touchStart", "move": "touchMove", "up": "touchEnd", "cancel": "touchCancel"}
MOUSE = {"down": "mousePressed", "move": "mouseMoved", "up": "mouseReleased"}


class Hand:
    """A finger, or a pen, of the Chrome DevTools Protocol (domain Input), on a page."""

    def __init__(self, tab: Tab, pen: bool):
        self.tab, self.pen = tab, pen
        self.line = tab.page.context.new_cdp_session(tab.page)

    def act(self, what: str, place: Place) -> None:
        """Put it down, move it or lift it at a place of the canvas."""
        x, y = self.tab.point(*place)
        if self.pen:
            told = {"type": MOUSE[what], "x": x, "y": y, "button": "left", "clickCount": 1}
            self.line.send("Input.dispatchMouseEvent", told | {"buttons": 1, "pointerType": "pen"})
        else:
            points = [{"x": x, "y": y}] if what in ("down", "move") else []
            self.line.send("Input.dispatchTouchEvent", {"type": TOUCH[what], "touchPoints": points})

    def drag(self, *places: Place, end: str = "up") -> None:
        """Put it down at one place, and lift it, or have it broken off, at the last."""
        self.act("down", places[0])
        for place in places[1:]:
            self.act("move", place)
        self.tab.settle()
        self.act(end, places[-1])
        self.tab.settle()


@pytest.fixture
def touched(browser: Any, issue: Path) -> Iterator[Tab]:
    """A tab on a screen that is touched, with a page of three panels open."""
    issue.write_text(PAGE, "utf-8")
    with planned(issue) as (address, _):
        tab = Tab(browser, address, has_touch=True)
        tab.open(0)
        yield tab
        tab.close()


@pytest.mark.parametrize("pen", [False, True])
def test_a_gutter_is_dragged_and_a_panel_divided(touched: Tab, issue: Path, pen: bool) -> None:
    """Gutters go along, level ones too, and a line across a panel that is chosen divides it."""
    hand = Hand(touched, pen)
    hand.drag((2062, 1500), (2200, 1500), (2475, 1500))
    assert 'widths = ["' in issue.read_text("utf-8")
    hand.drag((1500, 3150), (1500, 3300), (1500, 4000))
    assert 'heights = ["' in issue.read_text("utf-8")
    hand.drag((1200, 5500))
    touched.page.wait_for_selector(".panel-group.chosen")
    hand.drag((2062, 4300), (2062, 5000), (2062, 5900))
    assert touched.page.locator(".panel-group").count() == 4
    assert ", 2]" in issue.read_text("utf-8")


def test_what_is_broken_off_leaves_nothing_behind(touched: Tab, issue: Path) -> None:
    """Where the system takes the finger away, or the page is drawn anew, all is as it was; what is
    held next works.
    """
    hand, page = Hand(touched, pen=False), touched.page
    before = page.inner_html(".sheet")
    hand.drag((2062, 1500), (2200, 1500), (2475, 1500), end="cancel")
    assert page.inner_html(".sheet") == before
    hand.act("down", (2062, 1500))
    hand.act("move", (2300, 1500))
    touched.settle()
    touched.save(issue, PAGE.replace("Kettle Moth", "Kettle Moth, again"))
    hand.act("up", (2300, 1500))
    touched.settle()
    assert page.inner_html(".sheet") == before
    touched.key("Escape")
    page.wait_for_selector(".openings")  # nothing is held any more that would be let go by it
    assert issue.read_text("utf-8") == PAGE.replace("Kettle Moth", "Kettle Moth, again")
