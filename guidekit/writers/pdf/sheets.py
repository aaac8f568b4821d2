"""What goes on a sheet of paper, and the sheet that is made for one canvas."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from guidekit.plane.box import Box
from guidekit.writers.pdf.boxes import Boxes
from guidekit.writers.pdf.lengths import INCH, MM, Placing, Rectangle
from guidekit.writers.pdf.marks import MARK_LENGTH, offsets

BEYOND_MARKS = 2 * MM  # our choice; with 3 mm and marks of 5 the paper ends 10 mm from the cut

SheetSize = tuple[Fraction, Fraction]  # width, height in points


@dataclass(frozen=True)
class RulerStrip:
    """Where ruler and words stand: lower left corner and length; if `upright`, running upward."""

    x: Fraction
    y: Fraction
    length: Fraction
    upright: bool = False


@dataclass(frozen=True)
class PdfSheet:
    """One page of the file: its size, where the canvas lies on it, what of it is shown.

    `crosses` are the centres of registration marks, `place` says which of several sheets it is.
    """

    size: SheetSize
    canvas: Placing
    window: Rectangle
    strip: RulerStrip
    place: str = ""
    crosses: tuple[tuple[Fraction, Fraction], ...] = ()

    @property
    def media(self) -> Rectangle:
        """The MediaBox."""
        return page_of(self.size)


def own_sheet(canvas: Box, dpi: int, boxes: Boxes) -> PdfSheet:
    """A sheet as large as the canvas, and larger where the marks need it."""
    scale = INCH / dpi
    cut = boxes.finished
    gaps = (
        cut.left - canvas.left,
        canvas.bottom - cut.bottom,
        canvas.right - cut.right,
        cut.top - canvas.top,
    )
    reach = [offset + MARK_LENGTH + BEYOND_MARKS for offset in offsets(boxes, scale)]
    left, bottom, right, top = (
        max(Fraction(0), far - gap * scale) for far, gap in zip(reach, gaps, strict=True)
    )
    size = (left + canvas.width * scale + right, bottom + canvas.height * scale + top)
    placing = placed(canvas, scale, left, size[1] - top)
    below = placing.up(cut.bottom) - offsets(boxes, scale).bottom
    gap = 3 * MM  # clear of the marks
    strip = RulerStrip(
        placing.across(cut.left) + gap,
        below - MARK_LENGTH - MM,
        max(cut.width * scale - 2 * gap, 10 * MM),
    )
    return PdfSheet(size, placing, page_of(size), strip)


def placed(canvas: Box, scale: Fraction, x: Fraction, y: Fraction) -> Placing:
    """The canvas with its upper left corner at a point of the page."""
    return Placing(x - canvas.left * scale, y + canvas.top * scale, scale)


def page_of(size: SheetSize) -> Rectangle:
    """The whole of a page."""
    return Rectangle(Fraction(0), Fraction(0), *size)
