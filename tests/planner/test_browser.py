"""The planner in a real browser: changed by two people, told, tried, undone, never lost."""

from pathlib import Path
from typing import Any

import pytest
from support.browser import barriers
from support.long import long
from support.planning import START, Tab, planned

from guidekit import build_issue


def test_two_people(browser: Any, issue: Path) -> None:
    """What one changes the other sees at once; of the same page the second is told first."""
    with planned(issue) as (address, _):
        one, two = Tab(browser, address), Tab(browser, address)
        one.click("put a new page after it")
        two.page.wait_for_selector("[data-place='1']")
        for tab in (one, two):
            tab.open(1)
        one.page.locator("[data-panel='1']").first.focus()
        one.key("s")
        two.page.wait_for_selector("[data-panel='7']")
        assert "changed elsewhere" in two.told()
        two.page.locator("[data-panel='7']").first.focus()
        two.key("s")
        halved = "{ columns = [1, 1] }"
        tiers = f"[{{ columns = [{halved}, 1] }}, 2, {{ columns = [1, {halved}] }}]"
        assert f"tiers = {tiers}" in issue.read_text("utf-8")
        two.key("Control+z", "Control+z", "Control+z")
        assert issue.read_text("utf-8") == START
        one.close()
        two.close()


def test_a_page_goes_while_it_is_asked_for(tab: Tab, issue: Path) -> None:
    """What is taken away between two answers closes, and nothing goes wrong."""
    tab.click("put a new page after it")
    tab.open(1)
    gone = {"status": 422, "json": {"told": "There is no page 2."}}
    tab.page.route("**/page/1", lambda route: route.fulfill(**gone))
    issue.write_text(issue.read_text("utf-8").replace("Kettle Moth", "Kettle Moth, again"))
    tab.page.wait_for_selector(".openings")
    assert "again" in tab.page.inner_text("h1")


@long
def test_a_page_that_is_wrong_goes(tab: Tab, issue: Path) -> None:
    """A page that cannot be laid out and is taken away in an editor closes, and all is well."""
    tab.save(issue, f'{START}\n[[pages]]\npanels = "splash"\ngutter = 3\n')
    tab.open(1)
    tab.save(issue, START)
    tab.page.wait_for_selector(".openings")
    assert tab.page.inner_text(".alert") == ""


@long
@pytest.mark.parametrize("width", [700, 768, 900, 991, 1000])
def test_the_picture_covers_no_sentence(tab: Tab, issue: Path, width: int) -> None:
    """However far one scrolls: the page stays in sight beside the sentences, never above them."""
    tab.page.set_viewport_size({"width": width, "height": 900})
    tab.open(0)
    tab.page.evaluate("scrollTo(0, document.body.scrollHeight)")
    meet = """() => { const [a, b] = ['.easel', '.margin'].map((name) =>
        document.querySelector(name).getBoundingClientRect());
        return a.right > b.left && b.right > a.left && a.bottom > b.top && b.bottom > a.top; }"""
    assert not tab.page.evaluate(meet)


@long
def test_undo_after_reload(tab: Tab, issue: Path) -> None:
    """What was done before a reload can be undone after it, and done again."""
    tab.click("put a new page after it")
    after = issue.read_text("utf-8")
    tab.page.reload()
    tab.click("Undo")
    assert issue.read_text("utf-8") == START
    tab.click("Redo")
    assert issue.read_text("utf-8") == after


@long
def test_a_refused_change_is_told(tab: Tab, issue: Path) -> None:
    """What cannot fit is said in words, and the file stays as it is."""
    tab.open(0)
    tab.fill("Corners are rounded by", "900 in")
    assert "too large" in tab.told()
    assert issue.read_text("utf-8") == START


def test_a_file_that_is_broken_and_mended(tab: Tab, issue: Path) -> None:
    """A file broken in an editor is shown with its mistake; mended, the page is back as it was."""
    tab.open(0)
    tab.save(issue, START.replace('"splash"', '"splash'))
    tab.page.wait_for_selector(".text .wrong")
    assert tab.page.inner_text(".text .wrong") == 'panels = "splash'
    tab.save(issue, START)
    tab.page.wait_for_selector(".sheet [data-panel='1']")
    tab.page.locator("[data-panel='1']").first.focus()
    tab.key("s")
    assert "columns" in issue.read_text("utf-8") or "tiers" in issue.read_text("utf-8")


@long
def test_sides_are_shaped_one_by_one(tab: Tab, issue: Path) -> None:
    """Of pages that differ by side the left one is opened, shaped and tried for itself."""
    head = START.partition("[[pages]]")[0]
    pages = "count = 2\ntiers = [1, 1]\non_left = { tiers = [2, 1] }\n"
    tab.save(issue, f"{head}[[pages]]\n{pages}")
    tab.page.wait_for_selector("[data-place='1']")
    tab.page.locator("[data-place='1']").click()
    tab.click("open it")
    assert tab.page.locator(".sheet .panel").count() == 3
    tab.page.locator("[data-panel='3']").first.focus()
    tab.key("s")
    assert "on_left = { tiers = [2, 2] }" in issue.read_text("utf-8")
    tab.click("Show it on the right")
    tab.page.locator("[data-panel='2'] .panel").hover()
    assert tab.page.locator(".sheet .panel").count() == 2


@long
def test_scrolls_are_shaped_in_sentences(tab: Tab, issue: Path) -> None:
    """The places of a scroll get other heights and gaps, come, go and change places."""
    head = START.partition("[[pages]]")[0].replace("us-comic", "vertical-scroll")
    start = '[[pages]]\nscroll = [{ height = "1 screen" }, { ratio = "2:1", full = true }]\n'
    tab.save(issue, head + start)
    tab.open(0)
    tab.page.get_by_label("Place 1: how high").wait_for()
    tab.fill("Place 1: how high", "0.5 screens")
    tab.fill("Place 2: the gap above it", "200 px")
    tab.page.get_by_label("Place 2: runs to both sides").uncheck()
    tab.settle()
    tab.click("Place 2: move it up")
    tab.click("Place 2: put one below it")
    tab.click("Place 3: take it away")
    tab.page.get_by_role("button", name="Place 3").first.wait_for(state="detached")
    scroll = '[{ ratio = "2:1", gap = "200 px" }, { height = "0.5 screens" }]'
    assert f"scroll = {scroll}" in issue.read_text("utf-8")
    tab.fill("Place 1: how wide to high", "wide")
    assert "not a ratio" in tab.told()
    assert barriers(tab.page) == []


def test_files_of_moved_pages_are_shown_first(tab: Tab, issue: Path) -> None:
    """What would become of the files is listed; left it is as it was, done it can be undone."""
    tab.click("put a new page after it")
    folder, names = build_issue(issue, formats=["png-small"]).folder, []
    for words in ("Leave it", "Do it"):
        tab.click("move it one back")
        tab.page.get_by_role("cell", name="kettle-moth-p002-small.png").first.wait_for()
        assert barriers(tab.page) == []
        (folder / "kettle-moth-p002-small.png").write_bytes(b"drawn on")
        tab.click(words)
        names.append((folder / "kettle-moth-p001-small.png").read_bytes() == b"drawn on")
    assert names == [False, True]
    assert "2 files" in tab.told()
    tab.click("Undo")
    tab.click("Do it")
    assert (folder / "kettle-moth-p002-small.png").read_bytes() == b"drawn on"


@long
def test_a_page_is_dragged_to_another_place(salt_road: Tab, tmp_path: Path) -> None:
    """A page dragged onto another comes to its place, with the comment beside it."""
    tab, path = salt_road, tmp_path / "salt-road.toml"
    before = path.read_text("utf-8")
    boxes = [tab.page.locator(f"[data-place='{i}']").bounding_box() for i in (3, 0)]
    (x, y), (to_x, to_y) = ((b["x"] + b["width"] / 2, b["y"] + 60) for b in boxes)
    tab.page.mouse.move(x, y)
    tab.page.mouse.down()
    tab.page.mouse.move((x + to_x) / 2, y + 30, steps=3)
    tab.page.mouse.move(to_x, to_y, steps=3)
    tab.page.mouse.up()
    tab.settle()
    after = path.read_text("utf-8")
    assert after.index("tiers = [2, 3, 1]") < after.index('panels = "splash"')
    assert sorted(after.splitlines()) == sorted(before.splitlines())


@long
def test_a_layout_is_tried_by_pointing(salt_road: Tab, tmp_path: Path) -> None:
    """A layout that is pointed at is shown on the page and leaves the file as it is."""
    tab, path = salt_road, tmp_path / "salt-road.toml"
    before = path.read_text("utf-8")
    tab.open(2)
    tab.page.locator("summary", has_text="Other layouts").click()
    tab.settle()
    tab.page.get_by_label("with so many panels:").select_option("9")
    tab.settle()
    count = "document.querySelectorAll('.sheet .panel').length"
    assert tab.page.evaluate(count) == 6
    tab.page.get_by_role("button", name="Take the layout nine-grid. ").hover()
    tab.page.wait_for_selector("[data-panel='9']")
    assert tab.page.evaluate(count) == 9
    tab.page.mouse.move(5, 5)
    tab.page.wait_for_selector("[data-panel='9']", state="detached")
    assert path.read_text("utf-8") == before


@long
def test_a_text_that_cannot_be_saved_is_kept(tab: Tab, issue: Path) -> None:
    """When the file is gone, its text is shown to be copied, and no file is made."""
    issue.unlink()
    tab.page.get_by_role("button", name="put a new page after it").click()
    kept = tab.page.get_by_role("textbox", name="The text that was not saved")
    kept.wait_for()
    tab.wrong.clear()  # the browser's own word for the refusal
    assert kept.input_value() == START
    assert [*issue.parent.glob("*.toml")] == []
    assert barriers(tab.page) == []
