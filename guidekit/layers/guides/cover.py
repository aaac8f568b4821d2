"""Guides of covers: the folds round the spine, where its lettering stays, the barcode's place."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.guides.lines import upright
from guidekit.raster.shapes import Shape, Stroke, outline
from guidekit.units import half_up

CLEAR = Fraction(1, 16)  # in: room for lettering on each side of a spine (common practice)


def spine(given: GuideInput) -> Iterator[Shape]:
    """The folds from edge to edge; on the spine two lines between which lettering stays."""
    page, pen = given.page, given.pen
    bleed, spine = page.boxes.bleed, page.boxes.spine
    if not spine:
        return
    for x in page.boxes.folds:
        yield upright(x, bleed.top, bleed.bottom, pen.weight, pen.dash(10, 4))
    clear = half_up(CLEAR * page.book.dpi)
    if spine.width > 3 * clear:
        for x in (spine.left + clear, spine.right - clear):
            yield upright(x, spine.top, spine.bottom, pen.weight, pen.dash(4, 2))


def barcode(given: GuideInput) -> Iterator[Shape]:
    """The place that is kept clear on the back cover, crossed out."""
    box, weight, dash = given.page.boxes.barcode, given.pen.weight, given.pen.dash(4, 4)
    if box:
        yield from outline(box, weight, dash)
        yield Stroke((box.left, box.top), (box.right, box.bottom), weight, dash)
        yield Stroke((box.left, box.bottom), (box.right, box.top), weight, dash)
