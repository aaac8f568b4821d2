"""The planner in a real browser: by pointer, by keys alone, by two people, and no barrier."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.browser import barriers, chromium
from support.planning import Tab, planned
from support.samples import REPOSITORY

from guidekit import build_issue

START = 'title = "Kettle Moth"\npreset = "us-comic"\n\n[[pages]]\npanels = "splash"\n'

#: What the two tests below come to, as one would write it by hand; its spelling may differ.
BY_HAND = """\
title = "Kettle Moth"
preset = "us-comic"
format = { dpi = 60 }

[[pages]]
panels = "splash"
panel = { 1 = { bleed = "all" } }

[[pages]]
tiers = [2, 2, { widths = ["3.5 in", 1] }]

[[pages]]
tiers = [2, { columns = [1, { tiers = [1, 1] }] }, 2]
insets = [{ over = 1, width = "1 in", height = "0.5 in", at = ["0.5 in", "0.5 in"] }]

[[pages]]
count = 20
panels = "six-grid"
note = "So many alike"

[[pages]]
tiers = [1, { panels = 2, slant = "5 deg" }, 2]
"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """Chromium, as the system has it."""
    with chromium() as found:
        yield found


@pytest.fixture
def issue(tmp_path: Path) -> Path:
    """An issue of one page."""
    path = tmp_path / "kettle-moth.toml"
    path.write_text(START, "utf-8")
    return path


@pytest.fixture
def tab(browser: Any, issue: Path) -> Iterator[Tab]:
    """A tab with that issue."""
    with planned(issue) as (address, _):
        found = Tab(browser, address)
        yield found
        found.close()


def same_pages(issue: Path, tmp_path: Path) -> None:
    """The PSDs of an issue are those of the one that was written by hand, byte for byte."""
    by_hand = tmp_path / "by-hand" / "kettle-moth.toml"
    by_hand.parent.mkdir()
    inset = re.search(r"^insets = .*$", issue.read_text("utf-8"), re.M)
    assert inset  # where keys put it is not where the pointer does
    by_hand.write_text(re.sub(r"^insets = .*$", inset[0], BY_HAND, flags=re.M), "utf-8")
    folders = [build_issue(path).folder for path in (issue, by_hand)]
    names = sorted(path.name for path in folders[1].glob("*.psd"))
    assert len(names) == 24
    for name in names:
        assert (folders[0] / name).read_bytes() == (folders[1] / name).read_bytes(), name


def test_made_by_pointer(tab: Tab, issue: Path, tmp_path: Path) -> None:
    """An issue of 24 pages made from one page by pointer is that written by hand, in every byte."""
    page = tab.page
    tab.click("The issue")
    page.get_by_role("textbox", name="dpi").fill("60")
    page.get_by_role("textbox", name="dpi").blur()
    tab.settle()
    tab.click("Close")
    for _ in range(4):
        tab.click("put a new page behind it")
    tab.open(0)  # the canvas is 413 × 630 px, its safe area begins at 23
    page.locator("[data-panel='1']").first.click()
    for edge in ("left", "top", "right", "bottom"):
        start = page.locator(f"[data-out='{edge}']").bounding_box()
        x, y = start["x"] + start["width"] / 2, start["y"] + start["height"] / 2
        dx, dy = {"left": (-60, 0), "top": (0, -60), "right": (60, 0), "bottom": (0, 60)}[edge]
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + dx, y + dy, steps=3)
        page.mouse.up()
        tab.settle()
    tab.open(1)
    tab.draw((206, 530), (238, 530))  # the last gutter, to 3.5 in and half its width
    tab.open(2)
    tab.draw((230, 315), (370, 317))  # a line right across panel 4
    tab.draw((53, 53), (113, 83))  # a box over panel 1
    tab.open(3)
    tab.page.locator("summary", has_text="Other layouts").click()
    tab.settle()
    page.get_by_role("button", name="Take the layout six-grid. ").click()
    tab.settle()
    fill(tab, "Note on the label:", "So many alike")
    fill(tab, "So many pages alike:", "20")
    tab.open(4)
    page.locator("[data-panel='1']").first.click()
    page.locator("[data-panel='2']").first.click(modifiers=["Shift"])
    tab.click("Join them into one")
    lean(tab)
    same_pages(issue, tmp_path)


def fill(tab: Tab, label: str, words: str) -> None:
    """Type into a field and leave it."""
    field = tab.page.get_by_label(label, exact=True)
    field.fill(words)
    field.blur()
    tab.settle()


def lean(tab: Tab) -> None:
    """Drag the upper end of the gutter in the middle tier until it leans by 5 degrees."""
    grip = tab.page.locator(".edge.across .lean[data-end='first']").first
    grip.hover(force=True)
    for step in range(1, 40):
        box = grip.bounding_box()
        tab.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        tab.page.mouse.down()
        tab.page.mouse.move(box["x"] + box["width"] / 2 + step, box["y"] + box["height"] / 2)
        tab.page.mouse.up()
        tab.settle()
        if 'slant = "5 deg"' in tab.page.inner_text("pre"):
            return
        if "slant" in tab.page.inner_text("pre"):
            tab.key("Control+z")
    raise AssertionError("it never leans by 5 degrees")


def tab_to(tab: Tab, label: str) -> None:
    """Press Tab until what has this label, or begins with it, has the focus."""
    for _ in range(150):
        tab.page.keyboard.press("Tab")
        found = tab.page.evaluate(
            "(e => e.getAttribute('aria-label') ?? e.textContent)(document.activeElement)"
        )
        if found.startswith(label):
            return
    raise AssertionError(f"no way by Tab to {label}")


def type_over(tab: Tab, label: str, words: str) -> None:
    """Write into a field in place of what is there, by keys."""
    tab_to(tab, label)
    tab.page.keyboard.press("Control+a")
    tab.page.keyboard.type(words)
    tab.key("Tab")


def test_made_by_keys(tab: Tab, issue: Path, tmp_path: Path) -> None:
    """The same issue made with keys alone is the same again."""
    tab_to(tab, "The issue")
    tab.key("Enter")
    type_over(tab, "dpi", "60")
    tab.key("Escape")
    tab_to(tab, "Page 1")
    tab.key("n", "n", "n", "n", "Home", "Enter")
    tab_to(tab, "Panel 1")
    tab.key("o", "Escape", "ArrowRight", "Enter")
    tab_to(tab, "Gutter 5")
    tab.key(*["ArrowRight"] * 9)
    tab.key("Escape", "ArrowRight", "Enter")
    tab_to(tab, "Panel 4")
    tab.key("u")
    tab_to(tab, "Panel 1")
    tab.key("i")
    tab_to(tab, "Panel 2")
    tab.key("Enter")
    for key, count in {"ArrowLeft": 16, "ArrowUp": 18}.items():
        tab.key(*[key] * count)
    tab.key("Escape", "ArrowRight", "Enter")
    tab_to(tab, "Other layouts")
    tab.key("Enter")
    tab_to(tab, "Take the layout six-grid.")
    tab.key("Enter")
    type_over(tab, "Note on the label:", "So many alike")
    type_over(tab, "So many pages alike:", "20")
    tab.key("Escape", "End", "Enter")
    tab_to(tab, "Panel 1")
    tab.key("Enter", "ArrowRight", "Shift+Enter", "j")
    tab_to(tab, "Gutter 3")
    tab.key("]", "]", "]", "]", "]")
    same_pages(issue, tmp_path)


@pytest.fixture
def salt_road(browser: Any, tmp_path: Path) -> Iterator[Tab]:
    """A tab with the example issue, in a file of this name."""
    path = tmp_path / "salt-road.toml"
    path.write_bytes((REPOSITORY / "examples" / "salt-road.toml").read_bytes())
    with planned(path) as (address, _):
        found = Tab(browser, address)
        yield found
        found.close()


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
    issue.write_text(f"{issue.read_text('utf-8')}\nfoo = 1\n", "utf-8")
    page.wait_for_selector(".problems")
    assert barriers(page) == []
    issue.write_text("[[pages]\n", "utf-8")
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


def test_two_people(browser: Any, issue: Path) -> None:
    """What one changes the other sees at once; of the same page the second is told first."""
    with planned(issue) as (address, _):
        one, two = Tab(browser, address), Tab(browser, address)
        one.click("put a new page behind it")
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


def test_the_issue_itself(tab: Tab, issue: Path) -> None:
    """Title, number, direction and format of the issue are changed in sentences."""
    tab.click("The issue")
    fill(tab, "The issue is called", "Kettle Moth, again")
    fill(tab, "and has the number", "3")
    tab.page.get_by_label("It is read from", exact=True).select_option("rtl")
    tab.settle()
    tab.page.get_by_label("The issue is made in the format").select_option("jis-b5")
    tab.settle()
    text = START.replace("Kettle Moth", "Kettle Moth, again").replace("us-comic", "jis-b5")
    expected = text.replace('"jis-b5"\n', '"jis-b5"\nnumber = 3\ndirection = "rtl"\n')
    assert issue.read_text("utf-8") == expected


def test_undo_after_reload(tab: Tab, issue: Path) -> None:
    """What was done before a reload can be undone after it, and done again."""
    tab.click("put a new page behind it")
    after = issue.read_text("utf-8")
    tab.page.reload()
    tab.click("Undo")
    assert issue.read_text("utf-8") == START
    tab.click("Redo")
    assert issue.read_text("utf-8") == after


def test_a_refused_change_is_told(tab: Tab, issue: Path) -> None:
    """What cannot fit is said in words, and the file stays as it is."""
    tab.open(0)
    fill(tab, "Corners are rounded by", "900 in")
    assert "too large" in tab.told()
    assert issue.read_text("utf-8") == START


def test_pages_are_made(tab: Tab, issue: Path) -> None:
    """The pages are made in the formats that were chosen, and told."""
    tab.click("Make the pages")
    tab.page.get_by_role("checkbox", name="psd").uncheck()
    tab.page.get_by_role("checkbox", name="png-small").check()
    tab.click("Make them now")
    tab.page.get_by_text("files written").wait_for()
    assert [path.name for path in (issue.parent / "kettle-moth").glob("*.png")] == [
        "kettle-moth-p001-small.png"
    ]


def test_drawn_pages_are_told(tab: Tab, issue: Path) -> None:
    """A page whose file was drawn on is told as such in the book, when pages are made again."""
    folder = build_issue(issue, formats=["png-small"]).folder
    (folder / "kettle-moth-p001-small.png").write_bytes(b"drawn on")
    tab.page.reload()
    tab.page.get_by_text("drawn on", exact=True).wait_for()
    assert barriers(tab.page) == []


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


def test_a_text_that_cannot_be_saved_is_kept(tab: Tab, issue: Path) -> None:
    """When the file is gone, its text is shown to be copied, and no file is made."""
    issue.unlink()
    tab.page.get_by_role("button", name="put a new page behind it").click()
    kept = tab.page.get_by_role("textbox", name="The text that was not saved")
    kept.wait_for()
    assert kept.input_value() == START
    assert barriers(tab.page) == []
    assert [*issue.parent.glob("*.toml")] == []
    tab.wrong.clear()  # the browser's own word for the refusal
