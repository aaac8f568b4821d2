"""Pages that are made from the planner, and what is told of the files that are there."""

from pathlib import Path
from typing import Any

from support.browser import barriers
from support.long import long
from support.planning import Tab, planned

from guidekit import build_issue

#: All that stands at the foot of a tab from now on, which is taken away after a while.
HEAR = """() => {
  window.heard = [];
  const status = document.querySelector(".status");
  new MutationObserver(() => heard.push(status.textContent)).observe(status, { childList: true });
}"""


def draw_on(tab: Tab, issue: Path) -> None:
    """Make the first page and draw on it, until the tab tells so."""
    folder = build_issue(issue, formats=["png-small"]).folder
    (folder / "kettle-moth-p001-small.png").write_bytes(b"drawn on")
    tab.page.reload()
    tab.page.get_by_text("drawn on", exact=True).wait_for()


def test_pages_are_made(browser: Any, issue: Path) -> None:
    """The pages are made in the formats that were chosen; how it ended is told in the window, and
    at the foot of a tab that has none.
    """
    with planned(issue) as (address, _):
        one, two = Tab(browser, address), Tab(browser, address)
        two.page.evaluate(HEAR)
        one.click("Make the pages")
        one.page.get_by_role("checkbox", name="psd").uncheck()
        one.page.get_by_role("checkbox", name="png-small").check()
        one.click("Make them now")
        one.page.get_by_text("files written").wait_for()
        two.page.wait_for_function("heard.some((words) => words.includes('files written'))")
        one.close()
        two.close()
    made = [path.name for path in (issue.parent / "kettle-moth").glob("*.png")]
    assert made == ["kettle-moth-p001-small.png"]


@long
def test_drawn_pages_are_told(tab: Tab, issue: Path) -> None:
    """A page whose file was drawn on is told as such in the book, when pages are made again."""
    draw_on(tab, issue)
    assert barriers(tab.page) == []


@long
def test_a_new_name_is_told_where_pages_are_drawn(tab: Tab, issue: Path) -> None:
    """A title that changes the folder of the pages is told when some of them are drawn on."""
    draw_on(tab, issue)
    tab.click("The issue")
    tab.fill("The issue is called", "Another Moth")
    assert "What is in kettle-moth stays there." in tab.told()
