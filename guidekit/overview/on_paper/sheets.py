"""From an issue's file to sheets of paper: a dummy to fold, sheets for first sketches."""

from __future__ import annotations

from pathlib import Path

from guidekit.errors import InputError, Problem, shown
from guidekit.geometry.plan import plan_issue
from guidekit.measure import load_issue
from guidekit.memory import remembering
from guidekit.overview.on_paper.dummy import SIZES, dummy_pdf
from guidekit.overview.on_paper.first_sketches import MOST, PAPERS, Sketches, sketch_sheets
from guidekit.overview.openings import openings
from guidekit.overview.own import signed
from guidekit.overview.papers import check_paper
from guidekit.overview.words import title_of
from guidekit.shipped import FullCatalogue, shipped
from guidekit.writers.pdf.colours import StackOnSheet, colour_document, sheet_as_large
from guidekit.writers.psd import PsdWriter


@remembering()
def dummy_bytes(
    path: str | Path, *, paper: str | None = None, catalogue: FullCatalogue | None = None
) -> bytes:
    """A PDF to print and fold, on `paper`; by default on that on which pages are largest.

    Raises `InputError`, `MachineError`.
    """
    if paper is not None:
        check_paper(paper, SIZES)
    file = load_issue(path, catalogue=catalogue or shipped())
    return signed(dummy_pdf(file, plan_issue(file), paper), ".pdf")


@remembering()
def sketch_files(
    path: str | Path,
    ending: str,
    wish: Sketches | None = None,
    *,
    catalogue: FullCatalogue | None = None,
) -> list[bytes]:
    """Sheets for first sketches: a PDF of all, or a PSD for each.

    Raises `InputError`, `MachineError`.
    """
    wish, ending = wish or Sketches(), ending.lower()
    if ending not in (".pdf", ".psd"):
        came = f"{shown(ending)} is no kind of sheet"
        raise InputError(Problem((), came, "a name in .pdf or .psd", argument="out"))
    check_paper(wish.paper, PAPERS)
    if not 1 <= wish.pages <= MOST:
        came = f"{wish.pages} pages do not go on a sheet"
        raise InputError(Problem((), came, f"1 to {MOST}", argument="per_sheet"))
    file = load_issue(path, catalogue=catalogue or shipped())
    if file.preset.scroll:
        came = "a scroll has no pages to lay side by side"
        raise InputError(Problem((), came, "an issue of pages", file=file.path))
    book = openings(file, plan_issue(file))
    stacks = [*sketch_sheets(book, wish, title_of(file), file.direction == "rtl")]
    if ending == ".psd":
        return [b"".join(out.pieces) for stack in stacks for out in PsdWriter().write(stack)]
    pages = ((sheet_as_large(stack), [StackOnSheet(stack)]) for stack in stacks)
    return [signed(colour_document(pages, title_of(file)), ending)]
