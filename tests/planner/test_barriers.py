"""The planner for everybody: no barrier, and nothing cut off on a screen of any size."""

from pathlib import Path

import pytest
from support.browser import barriers
from support.long import long
from support.planning import Tab


@long
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_barriers(salt_road: Tab, scheme: str, tmp_path: Path) -> None:
    """axe-core finds nothing in the book, on a page, in the windows and beside a mistake."""
    tab, page, issue = salt_road, salt_road.page, tmp_path / "salt-road.toml"
    page.emulate_media(color_scheme=scheme)
    assert barriers(page) == []
    for name in ("The issue", "Keys", "Make the pages"):
        tab.click(name)
        assert barriers(page) == []
        tab.click("Close")
    tab.open(3)
    page.locator("[data-panel='1']").first.click()
    for words in ("Other layouts", "Guides of this page"):
        page.locator("summary", has_text=words).click()
        tab.settle()
    assert barriers(page) == []
    tab.save(issue, f"{issue.read_text('utf-8')}\nfoo = 1\n")
    page.wait_for_selector(".problems")
    assert barriers(page) == []
    tab.save(issue, "[[pages]\n")
    page.wait_for_selector(".text")
    assert barriers(page) == []


def test_narrow_and_wide(salt_road: Tab) -> None:
    """From a phone to a wide screen nothing is cut off and nothing scrolls sideways."""
    tab, page = salt_road, salt_road.page
    for width in (320, 390, 768, 1280, 2560):
        page.set_viewport_size({"width": width, "height": 900})
        for entry in (None, 3, 4):
            if entry is None:
                page.evaluate("location.hash = ''")
                page.wait_for_selector(".openings")
            else:
                tab.open(entry)
                page.locator("summary", has_text="Guides of this page").click()
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (width, entry)
