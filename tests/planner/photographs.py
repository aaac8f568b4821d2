"""Every control of the planner in every state, photographed to be looked at.

Run it with a folder: ``python tests/planner/photographs.py /somewhere``, and with words of their
names if only some states are wanted. Each state is tried at four widths in light, dark and forced
colours; axe-core looks at it, and nothing may scroll sideways; what they find is printed, and
what the browser complains of: it does where an answer of the server is replaced. The names
of the pictures say width, scheme and state.
"""

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.browser import barriers, chromium
from support.drawn_book import draw_on
from support.planning import Tab, opened

from guidekit import build_issue

WIDTHS = (320, 768, 1300, 2560)
SCHEMES: dict[str, dict[str, Any]] = {
    "light": {"color_scheme": "light", "forced_colors": "none"},
    "dark": {"color_scheme": "dark", "forced_colors": "none"},
    "forced": {"color_scheme": "dark", "forced_colors": "active"},
}

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

LONG = """\
title = "The Kettle Moth, the Long Stairs, and What the Lamplighter's Third Daughter Found There"
number = 12
preset = "us-comic"

[[pages]]
count = 200
tiers = [2, 3, 1]
note = "A corridor with more doors than anybody could ever remember having opened"
"""

RIGHT_TO_LEFT = """\
title = "فراشة الإبريق"
preset = "jis-b5"
direction = "rtl"

[[pages]]
panels = "splash"
note = "على الدرج الطويل"
section = "الدرج"

[[pages]]
count = 4
tiers = [2, 1, 3]
"""

SMALL = """\
title = "Tin Kite"
preset = "us-comic"
format = { dpi = 72 }

[[pages]]
tiers = [2, 3, 1]
"""

ONE = 'title = "Moth"\npreset = "square"\n\n[[pages]]\npanels = "splash"\n'

ISSUES = {"scroll": SCROLL, "long": LONG, "right to left": RIGHT_TO_LEFT, "one": ONE}

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


def _fill(label: str, words: str) -> Callable[[Tab], None]:
    return lambda tab: tab.fill(label, words)


def _answer(path: str, status: int, **said: object) -> Callable[[Tab], None]:
    """The server answers this from now on, until the page is loaded anew."""
    return lambda tab: tab.page.route(path, lambda route: route.fulfill(status=status, json=said))


def _each(*acts: Callable[[Tab], object]) -> Callable[[Tab], None]:
    def act(tab: Tab) -> None:
        for one in acts:
            one(tab)
            tab.settle()

    return act


def _keys(*keys: str) -> Callable[[Tab], None]:
    return lambda tab: tab.key(*keys)


def _reload(tab: Tab) -> None:
    tab.page.reload()
    tab.page.wait_for_selector("header nav")


def _told(words: str) -> Callable[[Tab], None]:
    return lambda tab: tab.page.get_by_text(words).first.wait_for()


def _hold(selector: str, across: float, down: float) -> Callable[[Tab], None]:
    """Something is held, and half drawn so many times its own size away."""

    def act(tab: Tab) -> None:
        held = tab.page.locator(selector).first
        held.scroll_into_view_if_needed()
        box = held.bounding_box()
        x, y = box["x"] + box["width"] * 0.1, box["y"] + box["height"] / 2
        tab.page.mouse.move(x, y)
        tab.page.mouse.down()
        tab.page.mouse.move(x + box["width"] * across, y + box["height"] * down, steps=3)

    return act


MAKE = _window("Make the pages")
CHOSEN = _press("[data-panel='1'] .panel")
RENEW = _window("put today's guides into them", _told("These would change"))
UNSAVED: dict[str, object] = {"told": "The disk is full.", "text": ISSUE}


def states_of_book() -> Iterator[State]:
    """The book, each of its windows, and a page that is chosen, pointed at, focused, dragged."""
    yield "book", lambda tab: None
    yield "book chosen", _press("[data-place='4']")
    yield "book pointed", _hover("[data-place='3']")
    yield "book focus", _focus(".page[tabindex='0']")
    yield "book dragged", _hold("[data-place='0']", 2, 0)
    yield "button focus", _focus("nav button:enabled")
    yield "button pointed", _hover(".acts button")
    yield "issue", _window("The issue")
    yield "issue open", _window("The issue", _open("Binding"), _open("Guides of all"))
    yield "issue refused", _window("The issue", _fill("trim, width", "9 mm"))
    yield "keys", _window("Keys")
    yield "make", MAKE
    yield "make which", _each(MAKE, _fill("Only these pages:", "x"), _window("Make them now"))
    yield "making", _each(_answer("**/make", 200), MAKE, _window("Make them now"))
    yield "made", _each(MAKE, _window("Make them now"), _told("files written"))
    yield (
        "make failed",
        _each(_answer("**/make", 422, told="The disk is full."), MAKE, _window("Make them now")),
    )
    yield "move", _window("move it one on")
    yield "not saved", _each(_answer("**/change", 422, **UNSAVED), _window("copy it"))
    yield "gone", _each(_answer("**/events", 404), _reload, _told("has ended"))


def states_of_page() -> Iterator[State]:
    """A page with each thing on it chosen, pointed at, focused and held."""
    yield "page", lambda tab: None
    yield "panel chosen", CHOSEN
    yield "panels chosen", _each(CHOSEN, _focus("[data-panel='2']"), _keys("Shift+Enter"))
    yield "inset chosen", _press("[data-panel='7'] .panel")
    yield "panel pointed", _hover("[data-panel='2'] .panel")
    yield "panel focus", _focus("[data-panel='2']")
    yield "edge pointed", _hover(".edge")
    yield "edge focus", _focus(".edge")
    yield "bleed focus", _each(CHOSEN, _focus(".out"))
    yield "held", _hold("[data-panel='1']", 0.7, 0)
    yield "edge held", _hold(".edge", 0, 3)
    yield "edge refused", _hold(".edge", 0, 20)
    yield "refused", _fill("Corners are rounded by", "900 in")
    yield "layout tried", _each(_open("Other layouts"), _hover(".layout"))
    for words in ("Other layouts", "Guides of this page", "In the book"):
        yield words, _open(words)


def taken(tab: Tab, folder: Path, states: Iterable[State], place: str = "") -> None:
    """Photograph some states at an address, each from the beginning."""
    page, wanted = tab.page, sys.argv[2:]
    for name, act in states:
        if wanted and not any(words in name for words in wanted):
            continue
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 1000})
            page.emulate_media(**SCHEMES["light"], reduced_motion="reduce")
            page.goto(page.url.partition("#")[0] + place)
            page.reload()
            page.wait_for_selector(".openings, .sheet, .problems, .text")
            tab.settle()
            act(tab)
            tab.settle()
            for scheme, media in SCHEMES.items():
                page.emulate_media(**media)
                told = f"{width} {scheme} {name}"
                page.screenshot(path=folder / f"{told}.png", full_page=True, animations="disabled")
                for found in barriers(page) if scheme in ("light", "dark") else ():
                    print(f"{told}: {found}", flush=True)
            if page.evaluate("document.documentElement.scrollWidth") > width:
                print(f"{width} {name}: scrolls sideways", flush=True)
            page.keyboard.press("Escape")  # what is held is let go without a change
            page.mouse.up()
            page.unroute_all()
            for words in tab.wrong:
                print(f"{width} {name}: {words}", flush=True)
            tab.wrong.clear()


def planning(browser: Any, path: Path, text: str) -> AbstractContextManager[Tab]:
    """A tab with an issue of this text."""
    path.write_text(text, "utf-8")
    return opened(browser, path)


def main() -> None:
    """All of it, into the folder that is named."""
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as here, chromium() as browser:
        path = Path(here) / "kettle-moth.toml"
        path.write_text(ISSUE, "utf-8")
        made = build_issue(path, formats=["png-small"]).folder
        next(made.glob("*p002*")).write_bytes(b"drawn on")
        with planning(browser, path, ISSUE) as tab:
            taken(tab, folder, states_of_book())
            taken(tab, folder, states_of_page(), "#page/1")
            for entry in (0, 2, 3, 4, 5, 6, 7, 8):
                taken(tab, folder, [(f"page {entry}", lambda tab: None)], f"#page/{entry}")
            taken(tab, folder, [("panel bleeds", CHOSEN)], "#page/0")
            path.write_text(f"{ISSUE}foo = 1\n", "utf-8")
            taken(tab, folder, [("mistake", lambda tab: None)])
            taken(tab, folder, [("mistake on page", lambda tab: None)], "#page/8")
            path.write_text("[[pages]\n", "utf-8")
            taken(tab, folder, [("broken", lambda tab: None)])
        for name, text in ISSUES.items():
            with planning(browser, Path(here) / f"{name}.toml", text) as tab:
                taken(tab, folder, [(name, lambda tab: None)])
                taken(tab, folder, [(f"{name} page", lambda tab: None)], "#page/0")
        path = Path(here) / "tin-kite.toml"
        path.write_text(SMALL, "utf-8")
        draw_on(build_issue(path).folder / "tin-kite-p001.psd", 0)
        with planning(browser, path, f'{SMALL}gutter = "8 mm"\n') as tab:
            taken(tab, folder, [("behind", lambda tab: None), ("renew", RENEW)])


if __name__ == "__main__":
    main()
