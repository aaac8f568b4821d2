"""The merged image of a file with other guides: made anew only where something of ours differs.

First the old layers are laid on each other where that is so, and on some rows all over the page. If
they give the image that is stored, it can be trusted, and only what differs is made anew; else all
of it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from tempfile import TemporaryFile
from typing import IO, Any

import numpy as np
from numpy.typing import NDArray
from psd_tools.compression import rle_impl  # type: ignore[attr-defined]  # compiled, or not

from guidekit.drawn.compose import ROWS, Item, RowStrip, UnknownError, seen
from guidekit.drawn.layer_tree import Added, Kept, LayerNode, LayerPart, Repainted, leaves
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.layers import LayerRecord
from guidekit.drawn.psd.planes import RAW, RLE, Plane
from guidekit.drawn.psd.seen_layers import SeenLayers
from guidekit.drawn.runs import pixels_of
from guidekit.layers.model import Layer, Stack, all_members
from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands
from guidekit.raster.shapes import cover

NEAR = 2  # steps of 255 that the stored image may differ by: programs round in their own ways
SAMPLE = 32  # of so many strips one is looked at all over

Columns = NDArray[np.intp]


@dataclass
class Spool:
    """One channel of the new image: how long each row is, and all rows in a file without a name."""

    counts: list[NDArray[np.int64]]
    file: IO[bytes] = field(default_factory=TemporaryFile)


class UntrueError(Exception):
    """The stored image is not what the layers show."""


class Merged:
    """The merged image of a file whose canvas stays as large as it is."""

    def __init__(
        self, drawing: PsdDrawing, stack: Stack, parts: Sequence[LayerPart], moved: tuple[int, int]
    ):
        self.drawing, self.stack, self.parts, self.moved = drawing, stack, parts, moved
        header = drawing.header
        self.width, self.height = stack.canvas.size
        self.every: Columns = np.arange(self.width)
        self.deep = header.depth == 16
        self.spools: list[Spool] = []

    def make(self) -> None:
        """Work it out. Raises `UnknownError`, `OSError`."""
        try:
            self._make(whole=self.is_other)
        except UntrueError:
            self._make(whole=True)

    def pieces(self) -> Iterator[bytes]:
        """The section of the new file, once it is made."""
        yield RLE.to_bytes(2, "big")
        wide = 4 if self.drawing.header.psb else 2
        for spool in self.spools:
            yield np.concatenate(spool.counts).astype(f">u{wide}").tobytes()
        for spool in self.spools:
            spool.file.seek(0)
            while block := spool.file.read(1 << 20):
                yield block
        self.close()

    def close(self) -> None:
        """Close what has no name, so that it is no more."""
        for spool in self.spools:
            spool.file.close()

    @property
    def is_other(self) -> bool:
        """True if the canvas changes its size."""
        return self.drawing.size != (self.width, self.height) or any(self.moved)

    def _make(self, whole: bool) -> None:
        self.close()
        header = self.drawing.header
        self.spools = [Spool([]) for _ in range(header.channels)]
        layers = SeenLayers(self.drawing, self.stack, self.moved)
        old = () if whole else layers.before(self.drawing.members)
        new = layers.after(self.parts)
        stored = None if self.is_other else self._stored()
        if stored is None and header.channels > header.colours:
            raise UnknownError("a channel beside the layers")
        differing = Differing(self.drawing, layers, self.stack, self.parts)
        for number, top in enumerate(range(0, self.height, ROWS)):
            strip = RowStrip(top, min(top + ROWS, self.height), self.every)
            layers.next_strip()
            if not whole and stored:
                columns = differing.columns(strip)
                self._check(
                    layers, old, stored, strip, self.every if number % SAMPLE == 0 else columns
                )
                strip = strip._replace(columns=columns)
            self._put(new, stored, strip)

    def _stored(self) -> Plane:
        """The old image: its channels one below the other."""
        header, merged = self.drawing.header, self.drawing.sections.merged
        rows = header.channels * header.height
        plane = Plane(self.drawing.source, merged, header.width, rows, header.depth, header.psb)
        if plane.kind not in (RAW, RLE):
            raise UnknownError("the merged image")
        return plane

    def _check(
        self,
        layers: SeenLayers,
        items: Sequence[Item],
        stored: Plane,
        strip: RowStrip,
        columns: Columns,
    ) -> None:
        """Raise `UntrueError` if the old layers do not give what is stored."""
        if not len(columns):
            return
        channels = self.drawing.header.colours
        found = seen(items, strip._replace(columns=columns), channels, deep=self.deep)
        for channel, rows in enumerate(found):
            at = channel * self.height
            was = stored.rows(at + strip.top, at + strip.bottom)[:, columns]
            apart = np.abs(rows.astype(np.int32) - was.astype(np.int32))
            if apart.max(initial=0) > NEAR * (257 if self.deep else 1):
                raise UntrueError

    def _put(self, items: Sequence[Item], stored: Plane | None, strip: RowStrip) -> None:
        """Add the rows of a strip to every channel."""
        colours = self.drawing.header.colours
        found = seen(items, strip, colours, deep=self.deep) if len(strip.columns) else None
        for channel, spool in enumerate(self.spools):
            top, bottom = channel * self.height + strip.top, channel * self.height + strip.bottom
            if stored is None and found is not None:
                self._pack(found[channel], spool)
            elif stored and found is not None and channel < colours:
                rows = stored.rows(top, bottom).copy()
                rows[:, strip.columns] = found[channel]
                self._pack(rows, spool)
            elif stored and (packed := stored.packed(top, bottom)):
                spool.counts.append(packed[0])
                spool.file.write(packed[1])
            elif stored:
                self._pack(stored.rows(top, bottom), spool)

    def _pack(self, rows: NDArray[np.uint8] | NDArray[np.uint16], spool: Spool) -> None:
        """Rows as PackBits; equal neighbours are packed once."""
        lines = [row.astype(">u2" if self.deep else np.uint8).tobytes() for row in rows]
        packed = [bytes(rle_impl.encode(line)) for line in lines]
        spool.counts.append(np.array([len(line) for line in packed], np.int64))
        spool.file.write(b"".join(packed))


class Differing:
    """Where what is shown of our layers is not as it was."""

    def __init__(
        self, drawing: PsdDrawing, layers: SeenLayers, stack: Stack, parts: Sequence[LayerPart]
    ):
        self.drawing, self.layers, self.stack = drawing, layers, stack
        self.gone = {leaf.key for leaf in leaves(drawing.members) if leaf.visible}
        self.pairs: list[tuple[LayerNode, Bands, bool]] = []
        self.made: list[Bands] = []
        self.masks: list[tuple[LayerNode, Bands]] = []
        self._add(parts)

    def columns(self, strip: RowStrip) -> Columns:
        """The columns of a whole strip in which anything differs."""
        found = np.zeros(len(strip.columns), bool)
        box = Box(0, strip.top, len(strip.columns), strip.bottom)
        for key in self.gone:
            self._mark(found, self.layers.alpha(self._record(key), strip))
        for bands in self.made:
            self._mark(found, pixels_of(bands, box))
        for node, bands, same_look in self.pairs:
            old = self.layers.alpha(self._record(node.key), strip)
            new = pixels_of(bands, box)
            if same_look:
                was = np.zeros(new.shape) if old is None else np.rint(old * 255)
                self._mark(found, was != new)
            else:
                self._mark(found, old if node.visible else None)
                self._mark(found, new)
        for node, bands in self.masks:
            shown = self.layers.mask(self._record(node.key), strip)
            was = np.zeros(strip.shape) if shown is None else np.rint(shown * 255)
            self._mark(found, was != pixels_of(bands, box))
        return np.flatnonzero(found)

    def _mark(self, found: NDArray[np.bool_], rows: NDArray[Any] | None) -> None:
        if rows is not None:
            found |= (rows != 0).any(axis=0)

    def _record(self, key: int) -> LayerRecord:
        return self.drawing.info.records[key]

    def _add(self, parts: Sequence[LayerPart]) -> None:
        canvas = self.stack.canvas
        for part in parts:
            if isinstance(part, Added):
                layers = (
                    [part.member]
                    if isinstance(part.member, Layer)
                    else all_members(part.member.members)
                )
                self.made += [
                    cover(m.shapes, canvas) for m in layers if isinstance(m, Layer) and m.visible
                ]
            elif isinstance(part, Repainted):
                self.gone.discard(part.node.key)
                node = part.node
                look = (node.visible, node.opacity) == (part.visible, part.opacity)
                same = look and self.drawing.has_colour(node, part.layer.colour)
                if node.visible or part.visible:
                    bands = cover(part.layer.shapes, canvas)
                    self.pairs.append((node, bands if part.visible else EMPTY, same))
            elif isinstance(part, Kept):
                self.gone.discard(part.node.key)
                if part.members is not None:
                    self._add(part.members)
                if part.mask is not None:
                    self.masks.append((part.node, cover(part.mask, canvas)))
