"""The merged image of a file with other guides: made anew only where something of ours differs.

The old layers are laid on each other on some rows all over the page. If they give the image that is
stored, it can be trusted, and only what differs is made anew; else all of it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from guidekit.drawn.composing.compose import ROWS, RowStrip, UnknownError, seen
from guidekit.drawn.composing.small_picture import SmallPicture
from guidekit.drawn.ours.layer_tree import LayerPart
from guidekit.drawn.psd.differing import Differing
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.packed_rows import packed
from guidekit.drawn.psd.planes import Plane
from guidekit.drawn.psd.sections import RAW, RLE
from guidekit.drawn.psd.seen_layers import SeenLayers
from guidekit.drawn.spans.source import Piece, Spool
from guidekit.layers.model import Stack
from guidekit.writers.psd.resources import LONGEST_THUMBNAIL

NEAR = 2  # steps of 255 that the stored image may differ by: programs round in their own ways
TALL = 256  # rows worked at at most, where only a few columns of them are made anew
STRIP = 40_000  # pixels that are laid in the time that a strip takes beside them
SAMPLES = 64  # so many rows all over the page are compared with the stored ones

Columns = NDArray[np.intp]


class PackedChannel(Spool):
    """One channel of the new image: all its rows, and how long each is."""

    def __init__(self) -> None:
        super().__init__()
        self.counts: list[int] = []

    def add_rows(self, rows: Sequence[bytes]) -> None:
        """The next rows, as they are packed. Raises `OSError`."""
        self.counts += map(len, rows)
        self.add(b"".join(rows))


class Merged:
    """The merged image of a file whose layers of ours become others, and a small picture of it.

    Raises `UnknownError` where nobody can say how it looks.
    """

    def __init__(
        self, drawing: PsdDrawing, stack: Stack, parts: Sequence[LayerPart], moved: tuple[int, int]
    ):
        self.drawing, self.stack, self.parts, self.moved = drawing, stack, parts, moved
        header = drawing.header
        self.width, self.height = stack.canvas.size
        self.every: Columns = np.arange(self.width)
        self.deep = header.depth == 16
        self.stored = None if self.is_other else self._stored()
        if self.stored is None and header.channels > header.colours:
            raise UnknownError("a channel beside the layers")
        self.old = SeenLayers(drawing, stack).before(drawing.members) if self.stored else ()
        self.layers = SeenLayers(drawing, stack, moved)
        self.new = self.layers.after(parts)
        self.spools: list[PackedChannel] = []
        self.small = SmallPicture(self.width, self.height, header.colours, LONGEST_THUMBNAIL)

    def make(self) -> None:
        """Work it out. Raises `UnfitError`, `OSError`."""
        self.spools += (PackedChannel() for _ in range(self.drawing.header.channels))
        part = self.stored is not None and self._is_true(self.stored)
        for strip in self._differing() if part else self._strips(0, self.height, ROWS):
            self._put(strip)

    def pieces(self) -> Iterator[Piece]:
        """The section of the new file, once it is made."""
        yield RLE.to_bytes(2, "big")
        wide = 4 if self.drawing.header.psb else 2
        for spool in self.spools:
            yield np.array(spool.counts, f">u{wide}").tobytes()
        yield from self.spools

    def close(self) -> None:
        """Close what has no name, so that it is no more."""
        for spool in self.spools:
            spool.close()

    @property
    def is_other(self) -> bool:
        """True if the canvas changes its size."""
        return self.drawing.size != (self.width, self.height) or any(self.moved)

    def _strips(self, top: int, bottom: int, height: int) -> Iterator[RowStrip]:
        """Strips of all columns."""
        for begin in range(top, bottom, height):
            yield RowStrip(begin, min(begin + height, bottom), self.every)

    def _differing(self) -> Iterator[RowStrip]:
        """Strips with the columns in which anything differs, low ones where these are many."""
        differing = Differing(self.drawing, self.layers, self.stack, self.parts)
        for tall in self._strips(0, self.height, TALL):
            for top, bottom, columns in _parted(differing.where(tall)):
                yield RowStrip(tall.top + top, tall.top + bottom, columns)

    def _stored(self) -> Plane:
        """The old image: its channels one below the other."""
        header, merged = self.drawing.header, self.drawing.sections.merged
        rows = header.channels * header.height
        plane = Plane(self.drawing.source, merged, header.width, rows, header.depth, header.psb)
        if plane.kind not in (RAW, RLE):
            raise UnknownError("the merged image")
        return plane

    def _is_true(self, stored: Plane) -> bool:
        """True if the old layers give what is stored, as far as that is looked at."""
        near = NEAR * (257 if self.deep else 1)
        for top in range(0, self.height, max(1, self.height // SAMPLES)):
            strip = RowStrip(top, top + 1, self.every)
            found = seen(self.old, strip, self.drawing.header.colours, deep=self.deep)
            for channel, rows in enumerate(found):
                at = channel * self.height
                was = stored.rows(at + strip.top, at + strip.bottom)
                if np.abs(rows.astype(np.int32) - was.astype(np.int32)).max() > near:
                    return False
        return True

    def _put(self, strip: RowStrip) -> None:
        """Add the rows of a strip to every channel."""
        stored, colours = self.stored, self.drawing.header.colours
        found = seen(self.new, strip, colours, deep=self.deep) if len(strip.columns) else None
        for channel, spool in enumerate(self.spools):
            top, bottom = channel * self.height + strip.top, channel * self.height + strip.bottom
            if found is not None and channel < colours:
                rows = found[channel]
                if stored and len(strip.columns) < self.width:
                    rows, part = stored.rows(top, bottom).copy(), rows
                    rows[:, strip.columns] = part
                self._pack(rows, spool)
            elif stored:
                rows = stored.rows(top, bottom)
                if stored.kind == RLE:
                    spool.add_rows(stored.packed(top, bottom))
                else:
                    self._pack(rows, spool)
            if channel < colours:
                self.small.add(channel, strip.top, rows)

    def _pack(self, rows: NDArray[np.uint8] | NDArray[np.uint16], spool: PackedChannel) -> None:
        """Rows as PackBits."""
        lines = [row.astype(">u2" if self.deep else np.uint8).tobytes() for row in rows]
        spool.add_rows([packed(line) for line in lines])


def _parted(where: NDArray[np.bool_]) -> Iterator[tuple[int, int, Columns]]:
    """Rows from top to bottom with the columns that are marked in them, in as few parts as pay."""
    begin = 0
    marked = np.zeros(where.shape[1], bool)
    for top in range(0, len(where), ROWS):
        bottom = min(top + ROWS, len(where))
        low: NDArray[np.bool_] = np.logical_or.reduce(where[top:bottom])
        apart = (top - begin) * marked.sum() + (bottom - top) * low.sum()
        if (bottom - begin) * (marked | low).sum() > apart + STRIP:
            yield begin, top, np.flatnonzero(marked)
            begin, marked = top, low
        marked = marked | low
    yield begin, len(where), np.flatnonzero(marked)
