"""An issue made from one page in a browser: the very bytes of one that is written by hand."""

import re
from pathlib import Path

from support.long import long
from support.planning import Tab

from guidekit import build_issue

pytestmark = long

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
        tab.click("put a new page after it")
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
    tab.fill("Note on the label:", "So many alike")
    tab.fill("So many pages alike:", "20")
    tab.open(4)
    page.locator("[data-panel='1']").first.click()
    page.locator("[data-panel='2']").first.click(modifiers=["Shift"])
    tab.click("Join them into one")
    lean(tab)
    same_pages(issue, tmp_path)


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
