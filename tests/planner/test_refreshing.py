"""Today's guides in pages that are drawn on, from the planner: shown first, done, put back."""

from pathlib import Path
from typing import Any

import pytest
from support.browser import barriers
from support.drawn_book import draw_on, inks
from support.long import long
from support.planner import SMALL_HEAD
from support.planning import Tab, opened

from guidekit import build_issue
from guidekit.planner.making import Work, putting_back, refreshing
from guidekit.planner.standing import Standing
from guidekit.shipped import shipped

TEXT = f"""\
{SMALL_HEAD}
[[pages]]
tiers = [2, 3, 1]

[[pages]]
tiers = [2, 1]
"""
#: The gutters of the first page are wider, and the second has other panels.
CHANGED = TEXT.replace("3, 1]", '3, 1]\ngutter = "8 mm"').replace("[2, 1]", "[3, 1]")
BOTH = ["kettle-moth-p001.psd", "kettle-moth-p002.psd"]


@pytest.fixture
def issue(tmp_path: Path) -> Path:
    """An issue that was changed after both its pages were drawn on."""
    path = tmp_path / "kettle-moth.toml"
    path.write_text(TEXT, "utf-8")
    folder = build_issue(path).folder
    for seed, name in enumerate(BOTH):
        draw_on(folder / name, seed)
    path.write_text(CHANGED, "utf-8")
    return path


def files(issue: Path) -> list[bytes]:
    """What is in both files."""
    return [(issue.parent / "kettle-moth" / name).read_bytes() for name in BOTH]


def states(issue: Path) -> dict[int, str]:
    """What became of each page's file."""
    return {page: found["state"] for page, found in Standing(issue, shipped()).look().items()}


def done(work: Work) -> tuple[str, list[str], dict[str, Any]]:
    """What it ends with: how, of which files, and of which that are refused the pages."""
    event = work(lambda done, total: None)
    refused = {row["name"]: [*row["pages"]] for row in event["refused"]}
    return event["event"], [row["name"] for row in event["done"]], refused


def test_guides_are_looked_at_put_in_and_put_back(issue: Path) -> None:
    """To look changes nothing; what fits its page is done; the rest where its page is named; and
    what was done last is undone to the byte.
    """
    known, before = shipped(), files(issue)
    drawn = [inks(issue.parent / "kettle-moth" / name) for name in BOTH]
    assert states(issue) == {1: "behind", 2: "behind"}
    other = {BOTH[1]: [2]}
    assert done(refreshing(issue, known, None, look=True)) == ("looked", BOTH[:1], other)
    assert files(issue) == before
    assert done(refreshing(issue, known, None, look=False)) == ("refreshed", BOTH[:1], other)
    first = files(issue)
    assert done(refreshing(issue, known, [2], look=False)) == ("refreshed", BOTH[1:], {})
    assert states(issue) == {1: "drawn", 2: "drawn"}
    assert [inks(issue.parent / "kettle-moth" / name) for name in BOTH] == drawn
    assert done(putting_back(issue, known)) == ("put back", BOTH[1:], {})
    assert files(issue) == first
    assert (first[0] == before[0], first[1] == before[1]) == (False, True)


def wait_for(tab: Tab, words: str, name: str) -> None:
    """Wait until the window tells this of a file."""
    tab.page.get_by_role("status").filter(has_text=words).get_by_text(name).wait_for()


@long
def test_guides_are_offered_where_pages_are_behind(browser: Any, issue: Path) -> None:
    """Pages that are behind are named in the book; what would change is shown first, then done by
    a click, and put back by another.
    """
    before = files(issue)
    with opened(browser, issue) as tab:
        tab.page.get_by_text("and their guides have not: 1, 2.").wait_for()
        tab.click("put today's guides into them")
        wait_for(tab, "These would change", "kettle-moth-p001.psd: gutters")
        assert files(issue) == before
        assert barriers(tab.page) == []
        tab.click("Put them in")
        wait_for(tab, "These have today's guides", "kettle-moth-p001.psd")
        tab.page.get_by_text("and their guides have not: 2.").wait_for()
        tab.click("it is page 2 all the same")
        wait_for(tab, "These have today's guides", "kettle-moth-p002.psd")
        tab.page.get_by_text("and their guides have not").wait_for(state="detached")
        tab.click("Put the files back as they were")
        wait_for(tab, "These are as they were", "kettle-moth-p002.psd")
    assert files(issue)[1] == before[1]
