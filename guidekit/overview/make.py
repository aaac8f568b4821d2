"""From an issue's file to a picture of all of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from guidekit.cautions import cautions
from guidekit.errors import InputError, Problem, shown
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue import LoadedIssue
from guidekit.measure import load_issue
from guidekit.memory import remembering
from guidekit.overview.canvases import canvases_of
from guidekit.overview.openings import Opening, openings
from guidekit.overview.own import signed
from guidekit.overview.papers import PAPERS, check_paper
from guidekit.shipped import FullCatalogue, shipped

ENDINGS = (".html", ".png", ".pdf")
MOST_PANELS = 50_000


@dataclass(frozen=True)
class Overview:
    """A loaded issue with its pages as they face each other, and its cautions."""

    file: LoadedIssue
    openings: tuple[Opening, ...]
    cautions: tuple[str, ...]


@remembering()
def overview_bytes(
    path: str | Path,
    ending: str,
    *,
    folder: str | Path | None = None,
    paper: str = "a4",
    catalogue: FullCatalogue | None = None,
) -> bytes:
    """An issue as one file of an `ending` of `ENDINGS`; a PDF on sheets of this `paper`.

    `folder` is that of its canvases, by default the one beside its file. Raises `InputError`,
    `MachineError`.
    """
    ending = ending.lower()
    if ending not in ENDINGS:
        told = shown(ending) if ending else "a name without an ending"
        came, allowed = f"{told} is no kind of overview", "a name in .html, .png or .pdf"
        raise InputError(Problem((), came, allowed, argument="out"))
    check_paper(paper, PAPERS)
    found = looked_over(path, folder, catalogue)
    if ending == ".html":
        from guidekit.overview.web.html import html_of

        return signed(html_of(found.file, found.openings, found.cautions).encode(), ending)
    from guidekit.overview.files import pdf_of, png_of

    if ending == ".png":
        return signed(png_of(found.file, found.openings, found.cautions), ending)
    return signed(pdf_of(found.file, found.openings, PAPERS[paper], found.cautions), ending)


@remembering()
def overview_text(
    path: str | Path,
    width: int = 100,
    *,
    folder: str | Path | None = None,
    catalogue: FullCatalogue | None = None,
) -> str:
    """An issue in characters, in lines of at most `width` columns."""
    from guidekit.overview.characters import text_of

    found = looked_over(path, folder, catalogue)
    rtl = found.file.direction == "rtl"
    return "\n".join(text_of(found.openings, width, rtl)).rstrip()


def _check_size(file: LoadedIssue, plans: Sequence[PagePlan]) -> None:
    """Few lines make an issue of millions of panels, which nobody can look over."""
    if (panels := sum(len(plan.panels) for plan in plans)) > MOST_PANELS:
        came = f"these are {panels:,} panels"
        allowed = f"an overview of at most {MOST_PANELS:,} panels"
        raise InputError(Problem((), came, allowed, "Divide the issue into several.", file.path))


def looked_over(
    path: str | Path, folder: str | Path | None = None, catalogue: FullCatalogue | None = None
) -> Overview:
    """All that is shown of an issue, with what became of its canvases if there are any."""
    catalogue = catalogue or shipped()
    file = load_issue(path, catalogue=catalogue)
    plans = plan_issue(file)
    _check_size(file, plans)
    said = cautions(file, plans, (), catalogue.guides)
    found = canvases_of(file, folder, catalogue)
    book = openings(file, plans, said, found.states, found.thumbnails(plans))
    return Overview(file, book, said)
