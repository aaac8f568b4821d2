"""The window of the issue itself, in a real browser."""

import tomllib
from pathlib import Path

from support.long import long
from support.planning import START, Tab


def test_the_issue_itself(tab: Tab, issue: Path) -> None:
    """Title, number, direction and format of the issue are changed in sentences."""
    tab.click("The issue")
    tab.fill("The issue is called", "Kettle Moth, again")
    tab.fill("and has the number", "3")
    tab.page.get_by_label("It is read from", exact=True).select_option("rtl")
    tab.settle()
    tab.page.get_by_label("The issue is made in the format").select_option("jis-b5")
    tab.settle()
    text = START.replace("Kettle Moth", "Kettle Moth, again").replace("us-comic", "jis-b5")
    expected = text.replace('"jis-b5"\n', '"jis-b5"\nnumber = 3\ndirection = "rtl"\n')
    assert issue.read_text("utf-8") == expected


@long
def test_each_answer_keeps_the_others(tab: Tab, issue: Path) -> None:
    """What is said of binding and cover one after the other all stays, and what is to be known of
    a format goes with it.
    """
    tab.click("The issue")
    tab.page.locator("summary", has_text="Binding, cover").click()
    choose(tab, "Its binding is", "perfect")
    tab.fill("of paper that is", "0.1 mm")
    choose(tab, "Its binding is", "saddle-stitch")
    choose(tab, "Its cover is", "wrap")
    tab.page.get_by_label("the inner side of the cover too").check()
    tab.settle()
    choose(tab, "Its cover is", "apart")
    said = tomllib.loads(issue.read_text("utf-8"))
    assert said["binding"] == {"kind": "saddle-stitch", "caliper": "0.1 mm"}
    assert said["cover"] == {"inside": True, "wrap": False}
    caution = tab.page.get_by_text("a trim height of 10.1875 or 10.125 in is met as well")
    assert caution.count() == 1
    choose(tab, "The issue is made in the format", "square")
    assert caution.count() == 0


def choose(tab: Tab, label: str, value: str) -> None:
    """Take a value of a choice."""
    tab.page.get_by_label(label, exact=True).select_option(value)
    tab.settle()


@long
def test_what_is_told_in_a_window_covers_no_button(tab: Tab, issue: Path) -> None:
    """A refusal stands above the foot of its window, which can be closed."""
    tab.page.set_viewport_size({"width": 768, "height": 1000})
    tab.click("The issue")
    tab.fill("trim, width", "9 mm")
    assert "not saved" in tab.told()
    tab.click("Close")
    assert not tab.page.locator("dialog").count()
    assert issue.read_text("utf-8") == START
