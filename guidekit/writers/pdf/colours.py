"""Stacks in their own colours, laid on sheets of paper; no marks, no ruler."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from guidekit.layers.model import Stack, all_layers
from guidekit.plane.box import Box
from guidekit.writers.pdf.artwork import draw_piece
from guidekit.writers.pdf.clips import pieces
from guidekit.writers.pdf.document import Document
from guidekit.writers.pdf.lengths import INCH, Placing
from guidekit.writers.pdf.operators import (
    CLIP,
    RESTORE,
    SAVE,
    canvas_space,
    colour,
    half_turned,
    path,
)
from guidekit.writers.pdf.sheets import SheetSize, page_of, placed

Pictures = Sequence[tuple[Box, bytes]]  # a JPEG, and the box of the canvas that it fills


@dataclass(frozen=True)
class StackOnSheet:
    """A stack on a sheet: its upper left corner from that of the sheet, x and y, in points.

    `scale` is how many points a pixel takes. `upside_down` says that it stands on its head in the
    same place. `pictures` lie over its layers, and are for stacks that stand upright.
    """

    stack: Stack
    x: Fraction = Fraction(0)
    y: Fraction = Fraction(0)
    scale: Fraction | None = None
    upside_down: bool = False
    pictures: Pictures = ()

    @property
    def points(self) -> Fraction:
        """Points for a pixel; as large as its resolution makes it where no scale is given."""
        return self.scale or INCH / self.stack.dpi


def sheet_as_large(stack: Stack) -> SheetSize:
    """A sheet as large as a canvas."""
    scale = INCH / stack.dpi
    return stack.canvas.width * scale, stack.canvas.height * scale


def colour_document(
    sheets: Iterable[tuple[SheetSize, Sequence[StackOnSheet]]], title: str
) -> bytes:
    """The document; of each stack all visible layers, opaque, the lowest first, then pictures."""
    document = Document(title)
    for size, laid in sheets:
        for one in laid:
            _lay(document, one, size)
        document.end_page(page_of(size), None, None)
    return document.as_bytes()


def _lay(document: Document, laid: StackOnSheet, size: SheetSize) -> None:
    stack, scale = laid.stack, laid.points
    canvas = placed(stack.canvas, scale, laid.x, size[1] - laid.y)
    document.draw(SAVE)
    if laid.upside_down:
        edges = canvas.edges(stack.canvas)
        document.draw(half_turned(edges.left + edges.right, edges.bottom + edges.top))
    document.draw(canvas_space(canvas), path([stack.canvas]), CLIP)
    for layer in [*all_layers(stack.members)][::-1]:
        document.draw(colour(layer.colour))
        for piece in pieces(layer.shapes) if layer.visible else ():
            draw_piece(document, piece, stack)
    document.draw(RESTORE)
    _lay_pictures(document, laid.pictures, canvas)


def _lay_pictures(document: Document, pictures: Pictures, canvas: Placing) -> None:
    for box, jpeg in pictures:
        document.picture(jpeg, canvas.edges(box))
