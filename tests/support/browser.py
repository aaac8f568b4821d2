"""A real browser, as the system has it; none is needed to run guidekit."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from support.programs import command, node_package
from support.reference import reference


@contextmanager
def chromium() -> Iterator[Any]:
    """Chromium, driven by Playwright; where one of them is missing, see `command`."""
    sync = reference("playwright.sync_api")
    path = command("chromium")
    with sync.sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield found
        found.close()


def barriers(page: Any) -> list[Any]:
    """What axe-core finds by the rules of WCAG 2.2 A and AA and by its best practices."""
    page.evaluate(node_package("axe-core").read_text("utf-8"))
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [(v["id"], [n["html"][:120] for n in v["nodes"][:3]]) for v in found["violations"]]
