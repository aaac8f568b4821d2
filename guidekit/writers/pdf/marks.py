"""Marks outside the finished page, and where sheets overlap: thin lines, in points."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from guidekit.writers.pdf.boxes import Boxes
from guidekit.writers.pdf.lengths import MM, Placing, Rectangle
from guidekit.writers.pdf.operators import line

# Common practice, no source: 5 mm long, as far off as the ink reaches or 3 mm, 0.25 pt.
MARK_LENGTH = 5 * MM
MARK_OFFSET = 3 * MM
MARK_WEIGHT = Fraction(1, 4)
CROSS = 6 * MM  # our choice: the length of both lines of a registration mark


def offsets(boxes: Boxes, scale: Fraction) -> Rectangle:
    """How far from each edge of the finished page its marks begin."""
    cut, inked = boxes
    gaps = Rectangle(
        Fraction(cut.left - inked.left),
        Fraction(inked.bottom - cut.bottom),
        Fraction(inked.right - cut.right),
        Fraction(cut.top - inked.top),
    )
    return Rectangle(*(max(gap * scale, MARK_OFFSET) for gap in gaps))


def crop_marks(boxes: Boxes, canvas: Placing) -> Iterator[str]:
    """Two lines at each corner of the finished page, in line with its edges.

    CSS Paged Media 3, ``marks``: outside the page's box, and no ink near it.
    """
    cut, off = canvas.edges(boxes.finished), offsets(boxes, canvas.scale)
    for y in (cut.bottom, cut.top):
        yield line(cut.left - off.left - MARK_LENGTH, y, cut.left - off.left, y)
        yield line(cut.right + off.right, y, cut.right + off.right + MARK_LENGTH, y)
    for x in (cut.left, cut.right):
        yield line(x, cut.bottom - off.bottom - MARK_LENGTH, x, cut.bottom - off.bottom)
        yield line(x, cut.top + off.top, x, cut.top + off.top + MARK_LENGTH)


def registration_marks(centres: Iterable[tuple[Fraction, Fraction]]) -> Iterator[str]:
    """A cross at each point; laid on its twin it shows that two sheets lie right."""
    for x, y in centres:
        yield line(x - CROSS / 2, y, x + CROSS / 2, y)
        yield line(x, y - CROSS / 2, x, y + CROSS / 2)
