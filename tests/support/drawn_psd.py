"""Pages of PSD that are drawn on, and what is on them: what is the artist's, and what is ours."""

import shutil
from pathlib import Path

from guidekit import build_issue
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.drawn.refreshing.refresh_report import RefreshReport
from support.painting import Page, bytes_of, divider, paths, pixels
from support.samples import DPI, NAMES, WIDER, issue_file

DRAWN = NAMES[1]
TWO_DRAWN = NAMES[1:3]
OURS = ("Panel borders", "Gutter cover", "Paper", "Sheet")


def drawn_psd(place: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    folder = place / "out"
    build_issue(issue_file(place), folder, dpi=DPI)
    page = Page.open(folder / DRAWN)
    page.paint(page.place("Inks"), 1)
    page.paint(page.place("Pencils"), 2)
    page.save(folder / DRAWN)
    return folder


def two_drawn(place: Path) -> Path:
    """The folder of a build of which two pages are drawn on, and whose gutters are wider now."""
    folder = place / "out"
    build_issue(issue_file(place), folder, dpi=DPI, pages=[2, 3])
    for seed, name in enumerate(TWO_DRAWN):
        page = Page.open(folder / name)
        page.paint(page.place("Inks"), seed)
        page.save(folder / name)
    issue_file(place, WIDER)
    return folder


def refreshed(out: Path, text: str = WIDER, dpi: int | None = DPI) -> RefreshReport:
    """A refresh for an issue of this text."""
    return refresh_issue(issue_file(out.parent, text), out, dpi=dpi)


def fresh(out: Path, name: str, text: str, dpi: int | None = DPI) -> Page:
    """The page as a build of today writes it."""
    folder = out.parent / "fresh"
    shutil.rmtree(folder, ignore_errors=True)
    build_issue(issue_file(out.parent, text, "fresh.toml"), folder, dpi=dpi)
    return Page.open(folder / name)


def art(page: Page) -> list[bytes]:
    """The bytes of every layer and group that is not ours, the uppermost first."""
    return [
        bytes_of(entry, page.psd.header.version)
        for path, entry in paths(page)
        if path[0] != "Guides" and path[-1] not in OURS and path[0] != "Guides (old)"
    ]


def ours(page: Page) -> dict[tuple[str, ...], object]:
    """What is seen of the layers that are ours: pixels, opacity, whether they are shown."""
    return {
        path: (*pixels(entry, page), entry[0].opacity, entry[0].flags.visible)
        for path, entry in paths(page)
        if (path[0] == "Guides" or path[-1] in OURS) and not divider(entry[0])
    }
