"""How fast the planner is: to its first picture, and under a drag. Run it on an idle machine."""

import sys
import tempfile
import time
from pathlib import Path
from statistics import median
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.browser import chromium
from support.planning import Tab, planned

RUNS = 5
MOVES = 150
#: From a move of the pointer to the end of the frame in which the page is drawn anew.
WATCH = """() => {
  const sheet = document.querySelector('.sheet');
  window.taken = [];
  let began = null;
  sheet.addEventListener('pointermove', (event) => { began ??= event.timeStamp; }, true);
  new MutationObserver(() => {
    const start = began;
    began = null;
    if (start === null) return;
    requestAnimationFrame(() => {
      const after = new MessageChannel();
      after.port1.onmessage = () => window.taken.push(performance.now() - start);
      after.port2.postMessage(0);
    });
  }).observe(sheet, { childList: true });
}"""


def issue(folder: Path, pages: int) -> Path:
    """An issue of pages that are not alike, and one of twelve panels at the end."""
    text = 'title = "Kettle Moth"\npreset = "us-comic"\n'
    for i in range(pages - 1):
        row = f"{1 + i % 4}, {{ widths = [1, {1 + i % 7}] }}, {1 + i % 3}"
        text += f"\n[[pages]]\ntiers = [{row}]\n"
    path = folder / f"pages-{pages}.toml"
    path.write_text(f"{text}\n[[pages]]\ntiers = [3, 3, 3, 3]\n", "utf-8")
    return path


def first_picture(browser: Any, path: Path) -> tuple[float, float, int]:
    """Seconds to the address and to the first picture, and the most memory in MB."""
    start = time.monotonic()
    with planned(path) as (address, process):
        answered = time.monotonic() - start
        page = browser.new_page()
        page.goto(address, wait_until="commit")
        page.wait_for_selector(".openings .picture")
        drawn = time.monotonic() - start
        status = Path(f"/proc/{process.pid}/status").read_text("ascii")
        page.close()
    (most,) = (line.split()[1] for line in status.splitlines() if line.startswith("VmHWM"))
    return answered, drawn, int(most) // 1024


def drag(browser: Any, path: Path, entry: int) -> list[float]:
    """Milliseconds that each move of a drag took until it was drawn, sorted."""
    with planned(path) as (address, _):
        tab = Tab(browser, address)
        tab.open(entry)
        tab.page.evaluate(WATCH)
        box = tab.page.locator(".edge.across .reach").first.bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        tab.page.mouse.move(x, y)
        tab.page.mouse.down()
        for i in range(MOVES):
            tab.page.mouse.move(x + i % 40 - 20, y)
            time.sleep(0.03)
        tab.page.mouse.up()
        tab.settle()
        return sorted(tab.page.evaluate("window.taken"))


def main() -> None:
    """Print all of it."""
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        browser.new_page().close()
        for pages in (32, 200):
            path = issue(Path(folder), pages)
            runs = [first_picture(browser, path) for _ in range(RUNS)]
            answered, drawn, most = (median(column) for column in zip(*runs, strict=True))
            print(f"{pages} pages: address {answered:.2f} s, picture {drawn:.2f} s, {most:.0f} MB")
        taken = drag(browser, path, 199)
        late = taken[int(len(taken) * 0.95)]
        print(f"drag: median {median(taken):.0f} ms, 95th percentile {late:.0f} ms")


if __name__ == "__main__":
    main()
