"""The HTML file in a real browser: pointing, keys, zoom, light and dark, and no barrier."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.browser import barriers, new_page
from support.long import shortened
from support.samples import REPOSITORY, issue_file

from guidekit.overview.make import overview_bytes

SALT_ROAD = REPOSITORY / "examples" / "salt-road.toml"


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example issue as an HTML file."""
    path = tmp_path_factory.mktemp("html") / "salt-road.html"
    path.write_bytes(overview_bytes(SALT_ROAD, ".html"))
    return path


@pytest.fixture
def page(browser: Any, file: Path) -> Iterator[Any]:
    """The file, opened; whatever goes wrong in it or leaves for a network is gathered."""
    tab = new_page(browser, viewport={"width": 1300, "height": 900})
    tab.wrong = []
    tab.on("console", lambda said: tab.wrong.append(said.text))
    tab.on("pageerror", lambda error: tab.wrong.append(str(error)))
    tab.on("request", lambda asked: tab.wrong.append(asked.url))
    tab.goto(file.as_uri())
    yield tab
    assert tab.wrong == [file.as_uri()]
    tab.close()


def test_pointing_tells_measures(page: Any) -> None:
    """The measures of a page are shown while it is pointed at."""
    page.hover(".page >> nth=3")
    told = page.inner_text("#shown")
    assert told.startswith("Page 4, left: 6 panels.")
    assert "panel 1: 1781 × 1875 px" in told
    page.mouse.move(2, 2)
    assert page.inner_text("#shown") == ""


def test_keys(page: Any) -> None:
    """One stop of Tab for the book, arrows from page to page, Enter keeps, Escape lets go."""
    page.focus("#guides")
    page.keyboard.press("Tab")
    for key in ("ArrowRight", "ArrowRight", "ArrowLeft", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    active = "document.activeElement"
    assert page.evaluate(f"{active}.dataset.name").startswith("Page 3, right")
    assert page.evaluate(f"{active}.ariaPressed") == "true"
    page.hover(".page >> nth=0")
    page.mouse.move(2, 2)
    assert page.inner_text("#shown").startswith("Page 3")
    page.keyboard.press("Escape")
    assert page.inner_text("#shown") == ""
    page.keyboard.press("End")
    assert page.evaluate(f"{active}.dataset.name").startswith("Page 24")


def test_size_and_guides(page: Any) -> None:
    """Keys and controls make pages larger and take guides away and back."""
    width = "document.querySelector('.page svg').getBoundingClientRect().width"
    before = page.evaluate(width)
    for _ in range(5):
        page.keyboard.press("+")
    assert page.evaluate(width) == pytest.approx(2 * before, rel=0.01)
    assert page.is_visible(".safe >> nth=0")
    page.keyboard.press("g")
    assert not page.is_visible(".safe >> nth=0")
    page.click("#guides")
    assert page.is_visible(".safe >> nth=0")


def test_facing_pages_meet(page: Any) -> None:
    """Pages 2 and 3 stand side by side, the even one left, however long their captions are."""
    long = "c => c.textContent = 'drawn, older guides, and a note of many words'"
    page.evaluate(f"document.querySelectorAll('.caption').forEach({long})")
    page.keyboard.press("-")
    boxes = "[...document.querySelectorAll('.page svg')].map(s => s.getBoundingClientRect())"
    rows = page.evaluate(f"{boxes}.map(b => [b.left, b.right, b.top])")
    assert rows[1][1] == pytest.approx(rows[2][0], abs=0.6)
    assert rows[1][2] == rows[2][2]


def test_no_scrolling_sideways_on_a_phone(page: Any) -> None:
    """On a narrow screen openings stand one below the other."""
    page.set_viewport_size({"width": 390, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_right_to_left_can_be_scrolled_to(browser: Any, tmp_path: Path) -> None:
    """All of a wide cover can be reached in such a book too; sections begin on the right."""
    issue = issue_file(
        tmp_path,
        'title = "Tide"\npreset = "jis-b5"\ndirection = "rtl"\nformat.dpi = 30\n'
        'binding = { kind = "perfect", caliper = "0.1 mm" }\ncover = { flaps = "60 mm" }\n'
        '[[pages]]\npanels = "splash"\nsection = "One"\ncount = 2\n',
    )
    path = tmp_path / "tide.html"
    path.write_bytes(overview_bytes(issue, ".html"))
    tab = new_page(browser, viewport={"width": 390, "height": 800})
    tab.goto(path.as_uri())
    assert tab.evaluate("document.documentElement.scrollWidth") <= 390
    wide = "document.querySelector('.page').getBoundingClientRect()"
    assert tab.evaluate(f"{wide}.left") < 0
    tab.evaluate("document.querySelector('.book').scrollLeft = -9999")
    assert tab.evaluate(f"{wide}.left") >= 0
    tab.evaluate("document.querySelector('.book').scrollLeft = 0")
    heading = tab.locator(".section h2").bounding_box()
    assert heading["x"] + heading["width"] > 350
    assert tab.locator(".section h2").evaluate("h => getComputedStyle(h).textAlign") == "right"
    tab.close()


@pytest.mark.parametrize("scheme", shortened(["light", "dark"], ["light"]))
def test_no_barriers(page: Any, scheme: str) -> None:
    """axe-core finds nothing by the rules of WCAG 2.2 A and AA, nor by its best practices."""
    page.emulate_media(color_scheme=scheme)
    assert barriers(page) == []


def test_print(page: Any) -> None:
    """Printed, the controls are gone and all pages are there."""
    page.emulate_media(media="print")
    assert not page.is_visible(".tools")
    assert page.is_visible(".page >> nth=22")
