"""Every control of the planner in every state, photographed to be looked at.

Run it with a folder: ``python tests/planner/photographs.py /somewhere``, and with words of their
names if only some states are wanted. Each state is tried at four widths in light, dark and forced
colours; axe-core looks at it, and nothing may scroll sideways; what they find is printed, and
what the browser complains of: it does where an answer of the server is replaced. The names
of the pictures say width, scheme and state.
"""

import sys
from collections.abc import Iterable
from contextlib import AbstractContextManager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.browser import barriers, chromium
from support.drawn_book import draw_on
from support.photographed_issues import ISSUE, ISSUES, SMALL
from support.photographed_states import CHOSEN, RENEW, State, states_of_book, states_of_page
from support.planning import Tab, opened

from guidekit import build_issue

WIDTHS = (320, 768, 1300, 2560)
SCHEMES: dict[str, dict[str, Any]] = {
    "light": {"color_scheme": "light", "forced_colors": "none"},
    "dark": {"color_scheme": "dark", "forced_colors": "none"},
    "forced": {"color_scheme": "dark", "forced_colors": "active"},
}


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
        path = Path(here) / "small.toml"
        path.write_text(SMALL, "utf-8")
        draw_on(build_issue(path).folder / "kettle-moth-p001.psd", 0)
        with planning(browser, path, f'{SMALL}gutter = "8 mm"\n') as tab:
            taken(tab, folder, [("behind", lambda tab: None), ("renew", RENEW)])


if __name__ == "__main__":
    main()
