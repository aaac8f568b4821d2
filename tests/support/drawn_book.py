"""A small book of which two pages are drawn on, for tests that move its pages."""

from collections.abc import Sequence
from pathlib import Path

from guidekit import build_issue
from guidekit.drawn.moving.moves import Moved, move_pages
from guidekit.drawn.moving.renaming import Move
from guidekit.drawn.standing.status import status_issue
from support.painting import Page, bytes_of, paths
from support.samples import DPI, issue_file

ISSUE = """\
# a kite of tin
title = "The Tin Kite"
preset = "us-comic"   # as always

# the opening
[[pages]]
panels = "splash"

[[pages]]
count = 5   # a long talk
tiers = [2, 3, 1]
panel.1.bleed = ["top"]

# the fight
[[pages]]
tiers = [1, 2]
[pages.panel.2]
border = false

[[pages]]   # the valley
spread = true
tiers = [1, 2]

[layouts.two]
tiers = [1, 1]
"""
#: The same with two pages more before the fight, put in by hand.
TWO_MORE = ISSUE.replace(
    "# the fight", '[[pages]]\ncount = 2\nmap = """\nA A B\nC D B\n"""\n\n# the fight'
)
DRAWN = (3, 7)  # the numbers of pages that are drawn on


def name_of(*pages: int, suffix: str = "psd") -> str:
    """The file of a page or spread."""
    return f"tin-kite-p{'-'.join(f'{page:03}' for page in pages)}.{suffix}"


def drawn_book(place: Path, numbers: Sequence[int] = DRAWN) -> Path:
    """The folder of a build of which pages are drawn on, page 7 in an app's format too."""
    folder = place / "out"
    build_issue(issue_file(place, ISSUE), folder, dpi=DPI)
    for number in numbers:
        draw_on(folder / name_of(number), number)
    (folder / name_of(7, suffix="app")).write_bytes(b"in an app's own format")
    return folder


def draw_on(path: Path, seed: int) -> None:
    """Paint on a page as an app does."""
    page = Page.open(path)
    page.paint(page.place("Inks"), seed)
    page.save(path)


def move(out: Path, first: int, after: int, last: int = 0) -> Move:
    """Move pages of the issue beside the folder."""
    wish = Moved(range(first, (last or first) + 1), after)
    return move_pages(out.parent / "issue.toml", out, wish, dpi=DPI)


def inks(path: Path) -> bytes:
    """The bytes of what is drawn in a file."""
    (found,) = [entry for name, entry in paths(Page.open(path)) if name[-1] == "Inks"]
    return bytes_of(found)


def states(out: Path) -> dict[str, str]:
    """What became of each file."""
    report = status_issue(out.parent / "issue.toml", out, dpi=DPI)
    return {file.name: file.state for file in report.files}
