"""Stacks in their own colours, one page of a document each; no marks, no ruler."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from guidekit.layers.model import Stack, all_layers
from guidekit.plane.box import Box
from guidekit.writers.pdf.artwork import draw_piece
from guidekit.writers.pdf.clips import pieces
from guidekit.writers.pdf.document import Document
from guidekit.writers.pdf.lengths import INCH
from guidekit.writers.pdf.operators import RESTORE, SAVE, canvas_space, colour
from guidekit.writers.pdf.sheets import page_of, placed

Pictures = Sequence[tuple[Box, bytes]]  # a JPEG, and the box of the canvas that it fills


def colour_document(pages: Iterable[tuple[Stack, Pictures]], title: str) -> bytes:
    """The document; of each stack all visible layers, opaque, the lowest first, then pictures."""
    document = Document(title)
    for stack, pictures in pages:
        scale = INCH / stack.dpi
        size = (stack.canvas.width * scale, stack.canvas.height * scale)
        canvas = placed(stack.canvas, scale, Fraction(0), size[1])
        document.draw(SAVE, canvas_space(canvas))
        for layer in [*all_layers(stack.members)][::-1]:
            document.draw(colour(layer.colour))
            for piece in pieces(layer.shapes) if layer.visible else ():
                draw_piece(document, piece, stack)
        document.draw(RESTORE)
        for box, jpeg in pictures:
            document.picture(jpeg, canvas.edges(box))
        document.end_page(page_of(size), None, None)
    return document.as_bytes()
