"""A real browser, as the system has it; none is needed to run guidekit."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from support.programs import HANG, command, node_package
from support.reference import reference

RULES = "{resultTypes: ['violations'], rules: {'target-size': {enabled: true}}}"


@contextmanager
def chromium() -> Iterator[Any]:
    """Chromium, driven by Playwright; where one of them is missing, see `command`."""
    sync = reference("playwright.sync_api")
    path = command("chromium")
    with sync.sync_playwright() as driver:
        found = driver.chromium.launch(
            executable_path=path, args=["--no-sandbox"], timeout=HANG * 1000
        )
        yield found
        found.close()


def new_page(browser: Any, **how: Any) -> Any:
    """A page in a context of its own, which waits as long as anything does: no test has a clock."""
    page = browser.new_page(**how)
    page.set_default_timeout(HANG * 1000)
    return page


def barriers(page: Any) -> list[Any]:
    """What axe-core finds by the rules of WCAG 2.2 A and AA and by its best practices.

    The size of targets, WCAG 2.2 2.5.8, is a rule that axe-core leaves out unless it is asked for.
    """
    page.evaluate(node_package("axe-core").read_text("utf-8"))
    found = page.evaluate(f"axe.run(document, {RULES})")
    return [(v["id"], [n["html"][:120] for n in v["nodes"][:3]]) for v in found["violations"]]
