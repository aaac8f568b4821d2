"""Every control of the planner in every state, photographed to be looked at.

Run it with a folder: ``python tests/planner/photographs.py /somewhere``. Each state is tried in
light and dark and at four widths, axe-core looks at it, and nothing may scroll sideways; what they
find is printed. The names of the pictures say width, scheme and state.
"""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.browser import barriers, chromium
from support.planning import Tab, planned

from guidekit import build_issue

WIDTHS = (320, 768, 1300, 2560)
SCHEMES = ("light", "dark")

#: Pages of every kind, and what an issue can say of the whole book.
ISSUE = """\
title = "The Kettle Moth and the Long Stairs"
number = 3
preset = "us-comic"
binding = { kind = "perfect", caliper = "0.1 mm" }
cover = { wrap = false, inside = true, barcode = true }
folios = { place = "outside" }
format = { dpi = 72, gutter = "4 mm" }
guides = { thirds = "shown" }

[[pages]]
panels = "splash"
panel.1.bleed = "all"
note = "Steam over the harbour"
section = "The stairs"

[[pages]]
tiers = [2, 3, 1]
reveal = true
insets = [{ over = 6, width = "30 %", height = "40 %", corner = "top-right" }]

[[pages]]
tiers = [2, { panels = 2, slant = "12 deg" }, { panels = 2, bend = "4 mm" }]

[[pages]]
spread = true
tiers = [1, 3]

[[pages]]
map = '''
A A B
A B B
C C C
'''
panel.C.border = false

[[pages]]
tiers = [{ triangles = "both" }, 2]

[[pages]]
panels = "six-grid"
insets = [
  { within = "frame", width = "40 %", height = "20 %", at = ["10 %", "30 %"], tilt = "12 deg" },
  { within = "trim", points = [["50 %", "60 %"], ["95 %", "55 %"], ["80 %", "90 %"]] },
]

[[pages]]
count = 3
tiers = [1, 1]
on_left = { tiers = [3, 1] }
section = { title = "Afterwards", numbers = "roman" }

[[pages]]
kind = "ad"
"""

SCROLL = """\
title = "Kettle Moth, scrolled"
preset = "vertical-scroll"

[[pages]]
scroll = [{ height = "0.6 screens" }, { ratio = "2:1", full = true, gap = "300 px" }]
"""

State = tuple[str, Callable[[Tab], object]]


def _open(words: str) -> Callable[[Tab], None]:
    def act(tab: Tab) -> None:
        tab.page.locator("summary", has_text=words).click()
        tab.settle()

    return act


def _press(selector: str) -> Callable[[Tab], None]:
    return lambda tab: tab.page.locator(selector).first.click(force=True)


def _focus(selector: str) -> Callable[[Tab], None]:
    def act(tab: Tab) -> None:
        tab.page.keyboard.press("Tab")  # focus that is seen comes by keys
        tab.page.locator(selector).first.focus()

    return act


def _hover(selector: str) -> Callable[[Tab], None]:
    return lambda tab: tab.page.locator(selector).first.hover(force=True)


def _window(words: str, *then: Callable[[Tab], None]) -> Callable[[Tab], None]:
    def act(tab: Tab) -> None:
        tab.click(words)
        for one in then:
            one(tab)

    return act


def _hold(tab: Tab) -> None:
    """A line half drawn across a panel."""
    box = tab.page.locator("[data-panel='1']").first.bounding_box()
    tab.page.mouse.move(box["x"] + box["width"] * 0.1, box["y"] + box["height"] / 2)
    tab.page.mouse.down()
    tab.page.mouse.move(box["x"] + box["width"] * 0.8, box["y"] + box["height"] / 2, steps=3)


def states_of_book() -> Iterator[State]:
    """The book, each of its windows, and a page that is chosen, pointed at, focused."""
    yield "book", lambda tab: None
    yield "book chosen", _press("[data-place='4']")
    yield "book pointed", _hover("[data-place='3']")
    yield "book focus", _focus(".page[tabindex='0']")
    yield "issue", _window("The issue")
    yield "issue open", _window("The issue", _open("Binding"), _open("Guides of all"))
    yield "keys", _window("Keys")
    yield "make", _window("Make the pages")
    yield "move", _window("move it one on")


def states_of_page() -> Iterator[State]:
    """A page with each thing on it chosen, pointed at, focused and held."""
    yield "page", lambda tab: None
    yield "panel chosen", _press("[data-panel='1'] .panel")
    yield "panel pointed", _hover("[data-panel='2'] .panel")
    yield "panel focus", _focus("[data-panel='2']")
    yield "edge pointed", _hover(".edge")
    yield "edge focus", _focus(".edge")
    yield "held", _hold
    for words in ("Other layouts", "Guides of this page", "In the book"):
        yield words, _open(words)


def taken(tab: Tab, folder: Path, states: Iterator[State], place: str) -> None:
    """Photograph some states at an address, each from the beginning."""
    page = tab.page
    for name, act in states:
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": 1000})
                page.goto(page.url.partition("#")[0] + place)
                page.reload()
                page.wait_for_selector(".openings, .sheet, .problems, .text")
                tab.settle()
                act(tab)
                tab.settle()
                told = f"{width} {scheme} {name}"
                page.screenshot(path=folder / f"{told}.png", full_page=True)
                page.keyboard.press("Escape")  # what is held is let go without a change
                page.mouse.up()
                if page.evaluate("document.documentElement.scrollWidth") > width:
                    print(f"{told}: scrolls sideways")
                for found in barriers(page):
                    print(f"{told}: {found}")


def main() -> None:
    """All of it, into the folder that is named."""
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as here, chromium() as browser:
        path = Path(here) / "kettle-moth.toml"
        path.write_text(ISSUE, "utf-8")
        made = build_issue(path, formats=["png-small"]).folder
        next(made.glob("*p002*")).write_bytes(b"drawn on")
        with planned(path) as (address, _):
            tab = Tab(browser, address)
            taken(tab, folder, states_of_book(), "")
            taken(tab, folder, states_of_page(), "#page/1")
            for entry in (0, 2, 3, 4, 5, 6, 7, 8):
                taken(tab, folder, iter([(f"page {entry}", lambda tab: None)]), f"#page/{entry}")
            path.write_text(f"{ISSUE}foo = 1\n", "utf-8")
            taken(tab, folder, iter([("mistake", lambda tab: None)]), "")
            taken(tab, folder, iter([("mistake on page", lambda tab: None)]), "#page/8")
            path.write_text("[[pages]\n", "utf-8")
            taken(tab, folder, iter([("broken", lambda tab: None)]), "")
        path = Path(here) / "scroll.toml"
        path.write_text(SCROLL, "utf-8")
        with planned(path) as (address, _):
            taken(Tab(browser, address), folder, iter([("scroll", lambda tab: None)]), "#page/0")


if __name__ == "__main__":
    main()
