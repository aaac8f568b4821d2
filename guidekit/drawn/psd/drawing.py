"""A PSD that is drawn on, looked into as far as it must be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from guidekit.drawn.composing.runs import ROWS, DistinctRows, bands_of
from guidekit.drawn.ours.layer_tree import LayerNode
from guidekit.drawn.ours.wants import Want
from guidekit.drawn.psd.layers import ALPHA, MASK, LayerRecord, layers_of, tree_of
from guidekit.drawn.psd.planes import Plane
from guidekit.drawn.psd.sections import GREY, LONGEST_EDGE, dpi_of, fit_sections
from guidekit.drawn.spans.source import ByteSpan, Source
from guidekit.drawn.unfit import broken
from guidekit.layers.prints import Print, print_of
from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands, filled
from guidekit.writers.pixels.grey import stored_colour

MASK_SWITCHED_OFF, MASK_INVERTED, MASK_FEATHERED = 0x02, 0x04, 0x10  # "Layer mask data", flags
PLAIN_MASK = 20  # bytes of mask data without a second mask


class NotOursError(Exception):
    """Values between those that 8 bits have: no guide has them."""


class PlainLayer(NamedTuple):
    """A layer as ours are: where it covers the canvas, all in one colour; none if it is blank."""

    coverage: Bands
    print: Print
    colour: tuple[int, int, int] | None


class PsdDrawing:
    """The layers of an open file; raises `UnfitError` for what cannot be worked on."""

    def __init__(self, source: Source):
        self.source = source
        self.sections = fit_sections(source)
        self.header = self.sections.header
        self.info = layers_of(source, self.sections)
        self.members = tree_of(self.info)
        self._looks: dict[int, PlainLayer | None] = {}

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        return self.header.width, self.header.height

    @property
    def dpi(self) -> float | None:
        """Pixels per inch; None if the file does not say."""
        return dpi_of(self.source, self.sections)

    def look(self, node: LayerNode, wanted: Want) -> bool:
        """True if a layer has the pixels and the colour that are wanted."""
        if not wanted.colour or not node.box.holds(wanted.print.box):
            return False
        found = self._seen(node)
        if found is None or found.print != wanted.print:
            return False
        came = found.colour
        return came == stored_colour(wanted.colour, grey=self.header.mode == GREY) or (
            came == stored_colour(wanted.colour, grey=True) and _is_grey(came)
        )

    def is_blank(self, node: LayerNode) -> bool:
        """True if nothing is on a layer."""
        found = self._seen(node)
        return found is not None and found.print.box.is_empty

    def has_colour(self, node: LayerNode, colour: tuple[int, int, int]) -> bool:
        """True if a layer of ours has this one as the file stores it."""
        found = self._seen(node)
        return found is not None and found.colour == stored_colour(colour, self.header.mode == GREY)

    def coverage(self, node: LayerNode) -> Bands:
        """Where a layer of ours covers the canvas."""
        found = self._seen(node)
        return found.coverage if found else EMPTY

    def has_mask(self, node: LayerNode, wanted: Want) -> bool:
        """True if a group has the mask that is wanted, and nobody has switched it off."""
        record = self.info.records[node.key]
        mask, data = record.mask, record.channel(MASK)
        off = MASK_SWITCHED_OFF | MASK_INVERTED | MASK_FEATHERED
        if not mask or not data or mask.outside or mask.flags & off or mask.size > PLAIN_MASK:
            return False
        if wanted.print.box.is_empty or data.size <= 2:
            return wanted.print.box.is_empty and data.size <= 2
        if not mask.box.holds(wanted.print.box):
            return False
        bands = self._bands(data, mask.box)
        return bands is not None and print_of(bands) == wanted.print

    def _bands(self, data: ByteSpan, box: Box) -> Bands | None:
        try:
            return bands_of(self.strips(data, box), box.left, box.top)
        except NotOursError:
            return None

    def plane(self, data: ByteSpan, box: Box) -> Plane:
        """A channel in its rectangle. Raises `UnfitError` where that is none of a layer."""
        if box.longest > LONGEST_EDGE:
            raise broken("a layer is larger than any")
        depth, psb = self.header.depth, self.header.psb
        return Plane(self.source, data, box.width, box.height, depth, psb)

    def strips(self, data: ByteSpan, box: Box) -> Iterator[DistinctRows]:
        """A channel from the top down, as 8-bit values; raises `NotOursError`."""
        for rows, heights in self.plane(data, box).distinct():
            if rows.itemsize == 2:
                deep, rows = rows, (rows >> 8).astype(np.uint8)
                if (deep != rows * np.uint16(257)).any():
                    raise NotOursError
            yield DistinctRows(rows, heights)

    def _seen(self, node: LayerNode) -> PlainLayer | None:
        """How a layer looks; None where it has several colours, or is no guide."""
        if node.key not in self._looks:
            self._looks[node.key] = self._looked_at(self.info.records[node.key])
        return self._looks[node.key]

    def _looked_at(self, record: LayerRecord) -> PlainLayer | None:
        alpha = record.channel(ALPHA)
        if record.box.is_empty or (alpha and alpha.size <= 2):
            return PlainLayer(EMPTY, print_of(EMPTY), None)
        if record.channel(MASK) or record.clipping:  # somebody has done something to it
            return None
        if alpha:
            bands = self._bands(alpha, record.box)
        else:  # the lowest layer may be all opaque, which paper is as well
            bands = None if record.place else filled(record.box)
        if bands is None:
            return None
        found = print_of(bands)
        if found.box.is_empty:
            return PlainLayer(EMPTY, found, None)
        colour = self._colour(record, alpha)
        return None if colour is None else PlainLayer(bands, found, colour)

    def _colour(self, record: LayerRecord, alpha: ByteSpan | None) -> tuple[int, int, int] | None:
        """The one colour of all that is covered; None if there are several."""
        values: list[int] = []
        for number in range(self.header.colours):
            data = record.channel(number)
            if not data or data.size <= 2:
                return None
            value = self._one_value(data, alpha, record.box)
            if value is None:
                return None
            values.append(value)
        red, green, blue = values * 3 if len(values) == 1 else values
        return red, green, blue

    def _one_value(self, data: ByteSpan, alpha: ByteSpan | None, box: Box) -> int | None:
        colour, cover = self.plane(data, box), alpha and self.plane(alpha, box)
        value = colour.flat
        for top in range(0, box.height if value is None else 0, ROWS):
            bottom = min(top + ROWS, box.height)
            rows = colour.rows(top, bottom)
            covered = cover.rows(top, bottom) != 0 if cover else np.ones(rows.shape, bool)
            if value is None and covered.any():
                value = int(rows[covered][0])
            if value is not None and not ((rows == value) | ~covered).all():
                return None
        if value is None or self.header.depth == 8:
            return value
        return value >> 8 if value == (value >> 8) * 257 else None


def _is_grey(colour: tuple[int, int, int]) -> bool:
    return colour[0] == colour[1] == colour[2]
