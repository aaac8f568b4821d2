"""The issue on sheets, as one picture or as a document to print."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.issue import LoadedIssue
from guidekit.layers.model import Stack, visible_inks
from guidekit.overview.openings import Opening
from guidekit.overview.papers import SCREEN, Paper
from guidekit.overview.sheet import drawn, sheets
from guidekit.overview.words import about, title_of
from guidekit.raster.blend import flatten
from guidekit.writers.png.encode import encode_small_png

def png_of(file: LoadedIssue, openings: Sequence[Opening]) -> bytes:
    """One picture of all pages."""
    (stack,) = stacks_of(file, openings, SCREEN)
    return b"".join(
        encode_small_png(flatten(visible_inks(stack), stack.canvas, stack.paper), stack.dpi)
    )


def pdf_of(file: LoadedIssue, openings: Sequence[Opening], paper: Paper) -> bytes:
    """As many sheets of paper as it takes."""
    from guidekit.writers.pdf.colours import colour_document

    return colour_document(stacks_of(file, openings, paper), title_of(file))


def stacks_of(file: LoadedIssue, openings: Sequence[Opening], paper: Paper) -> list[Stack]:
    """Every sheet, the first with the title."""
    rtl = file.direction == "rtl"
    found = sheets(openings, paper, rtl)
    title = [title_of(file), *about(file, openings)]
    return [
        drawn(sheet, title if not number else (), paper, file.file_name)
        for number, sheet in enumerate(found)
    ]
