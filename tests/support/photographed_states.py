"""Every control of the planner in every state, and how it comes there."""

from collections.abc import Callable, Iterator

from support.photographed_issues import ISSUE
from support.planning import Tab

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
