"""``guidekit plan`` in a process of its own, and a tab that looks at it."""

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from support.browser import new_page
from support.samples import REPOSITORY, command, environment

#: An issue of one page.
START = 'title = "Kettle Moth"\npreset = "us-comic"\n\n[[pages]]\npanels = "splash"\n'

#: Whether a tab still waits, once all that has been begun in it, a change of its address too, is
#: under way.
BUSY = """async () => {
  for (let i = 0; i < 3; i += 1) await new Promise((done) => setTimeout(done));
  return document.body.ariaBusy === "true";
}"""


@contextmanager
def planned(issue: Path) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """The address at which an issue is planned, and the process; it is ended at the end."""
    call = command("plan", issue, "--no-browser")
    with subprocess.Popen(
        call, cwd=REPOSITORY, env=environment(), stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout
        try:
            yield process.stdout.readline().strip(), process
        finally:
            process.terminate()


def save(issue: Path, text: str) -> None:
    """Save the issue's file as an editor does: as a whole, in place of the old one."""
    part = issue.with_suffix(".part")
    part.write_text(text, "utf-8")
    part.replace(issue)


class Tab:
    """A tab of the browser with an issue in it; what goes wrong in it is gathered."""

    def __init__(self, browser: Any, address: str, words: str = "", **how: Any):
        self.page = new_page(browser, viewport={"width": 1300, "height": 1000}, **how)
        if words:
            answer = {"body": words, "content_type": "text/javascript"}
            self.page.route("**/static/words.js", lambda route: route.fulfill(**answer))
        self.wrong: list[str] = []
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on("console", self._hear)
        self.page.goto(address)
        self.page.wait_for_selector("header nav")
        self.settle()

    def _hear(self, said: Any) -> None:
        if said.type == "error" and "422" not in said.text and "409" not in said.text:
            self.wrong.append(said.text)

    def open(self, entry: int) -> None:
        """Open a page as its address does."""
        self.page.evaluate(f"location.hash = 'page/{entry}'")
        self.settle()
        self.page.wait_for_selector(".sheet, .open-page .problems")

    def settle(self) -> None:
        """Wait until nothing is asked of the server any more."""
        while self.page.evaluate(BUSY):
            self.page.wait_for_selector("body[aria-busy='false']")

    def save(self, issue: Path, text: str) -> None:
        """Save the issue's file, and wait until the tab has told so."""
        self.page.evaluate("document.querySelector('.status').textContent = ''")
        save(issue, text)
        self.page.get_by_text("changed elsewhere").wait_for()
        self.settle()

    def key(self, *keys: str) -> None:
        """Press keys one after the other, each when the last one is done."""
        for key in keys:
            self.page.keyboard.press(key)
            self.settle()

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Where a pixel of the canvas is on the screen."""
        found = self.page.evaluate(
            """([x, y]) => { const sheet = document.querySelector('.sheet');
            const at = new DOMPoint(x, y).matrixTransform(sheet.getScreenCTM());
            return [at.x, at.y]; }""",
            [x, y],
        )
        return found[0], found[1]

    def draw(self, *places: tuple[float, float]) -> None:
        """Hold the pointer down at one place of the canvas and let it go at the last."""
        mouse = self.page.mouse
        mouse.move(*self.point(*places[0]))
        mouse.down()
        for place in places[1:]:
            mouse.move(*self.point(*place), steps=4)
        self.settle()
        mouse.up()
        self.settle()

    def click(self, words: str) -> None:
        """Press the button with these words."""
        self.page.get_by_role("button", name=words, exact=True).click()
        self.settle()

    def fill(self, label: str, words: str) -> None:
        """Type into a field and leave it."""
        field = self.page.get_by_label(label, exact=True)
        field.fill(words)
        field.blur()
        self.settle()

    def told(self) -> str:
        """What stands at the foot of the page."""
        text: str = self.page.inner_text(".status") + self.page.inner_text(".alert")
        return text

    def close(self) -> None:
        """Close it; nothing has gone wrong in it."""
        self.page.context.close()
        assert not self.wrong, self.wrong


@contextmanager
def opened(browser: Any, issue: Path, words: str = "") -> Iterator[Tab]:
    """A tab with an issue that is planned for as long as it is open, perhaps with other `words`."""
    with planned(issue) as (address, _):
        tab = Tab(browser, address, words)
        yield tab
        tab.close()
