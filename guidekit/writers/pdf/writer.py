"""The files: one sheet as large as the canvas, or as many of a common size as it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from guidekit.errors import InputError, Problem
from guidekit.layers.model import Stack
from guidekit.writers.pdf.artwork import NON_PHOTO_BLUE, draw_prints, prints_of
from guidekit.writers.pdf.boxes import Boxes, boxes_of
from guidekit.writers.pdf.document import Document
from guidekit.writers.pdf.marks import MARK_WEIGHT, crop_marks, registration_marks
from guidekit.writers.pdf.operators import BLACK, CLIP, RESTORE, SAVE, colour, rectangle, weight
from guidekit.writers.pdf.sheets import PdfSheet, SheetSize, own_sheet
from guidekit.writers.pdf.strip import ADVICE, draw_strip
from guidekit.writers.pdf.tiles import A4, LETTER, common_sheets
from guidekit.writers.protocol import Limits, Output

LARGEST = 300_000  # in pixels; what counts is the size on paper, which `write` looks at
LARGEST_PAGE = 14_400  # ISO 32000-1 Annex C.2: points


class PdfWriter:
    """One sheet of paper with the whole canvas, marks round it and a ruler below."""

    name = "pdf"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(min(LARGEST, (LARGEST_PAGE // 72 - 3) * dpi))  # 3 in for marks and ruler

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file of one page."""
        boxes = boxes_of(stack)
        sheet = own_sheet(stack.canvas, stack.dpi, boxes)
        if max(sheet.size) > LARGEST_PAGE:
            raise InputError(_too_large(stack, max(sheet.size)))
        yield Output(f"{stack.file_name}.pdf", [file_of(stack, boxes, [sheet])])


class _SheetsWriter:
    """The same on sheets of one size, several to be glued where one is too small."""

    paper: SheetSize
    suffix: str

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file of one page or more."""
        sheets = common_sheets(stack.canvas, stack.dpi, self.paper)
        pieces = [file_of(stack, boxes_of(stack), sheets)]
        yield Output(f"{stack.file_name}-{self.suffix}.pdf", pieces)


class PdfA4Writer(_SheetsWriter):
    """The same on ISO A4."""

    name = "pdf-a4"
    paper = A4
    suffix = "a4"


class PdfLetterWriter(_SheetsWriter):
    """The same on US letter paper."""

    name = "pdf-letter"
    paper = LETTER
    suffix = "letter"


def file_of(stack: Stack, boxes: Boxes, sheets: Iterable[PdfSheet]) -> bytes:
    """Every sheet with its part of the canvas, marks, ruler and words."""
    document, prints = Document(stack.file_name), prints_of(stack)
    for sheet in sheets:
        document.draw(SAVE, rectangle(sheet.window), CLIP)
        draw_prints(document, prints, stack, sheet.canvas)
        document.draw(weight(MARK_WEIGHT), colour(NON_PHOTO_BLUE))
        document.draw(*registration_marks(sheet.crosses), BLACK)
        document.draw(*crop_marks(boxes, sheet.canvas), RESTORE)
        words = " · ".join(filter(None, (stack.file_name, sheet.place, ADVICE)))
        draw_strip(document, sheet.strip, words)
        _end_page(document, sheet, boxes)
    return document.as_bytes()


def _end_page(document: Document, sheet: PdfSheet, boxes: Boxes) -> None:
    """Section 14.11.2: boxes lie within the MediaBox; a part of a canvas has none of its own."""
    finished, inked = (sheet.canvas.edges(box) for box in boxes)
    whole = sheet.media.holds(inked) and inked.holds(finished)
    document.end_page(sheet.media, finished if whole else None, inked if whole else None)


def _too_large(stack: Stack, points: Fraction) -> Problem:
    came = f"the sheet of {stack.file_name} would be {float(points / 72):.1f} in long, as pdf"
    allowed = f"edges of at most {LARGEST_PAGE // 72} in"
    todo = f"Take a higher dpi, or the format pdf-a4 or pdf-letter: pdf has {allowed}."
    return Problem((), came, allowed, todo, argument="formats")
