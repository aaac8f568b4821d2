"""One PSD or PSB with the guides of today: planned, written, and compared with the old one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from io import BufferedReader
from typing import BinaryIO

import numpy as np

from guidekit.drawn.composing.compose import UnknownError
from guidekit.drawn.ours.arranged import arranged
from guidekit.drawn.ours.at_work import Arranged
from guidekit.drawn.ours.layer_tree import CanvasPlace
from guidekit.drawn.ours.wants import Name, Want
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.layers import LayerRecord, layers_of
from guidekit.drawn.psd.merged import Merged
from guidekit.drawn.psd.resources import changed_resources, new_resources
from guidekit.drawn.psd.sections import sections_of
from guidekit.drawn.psd.splice import NewRecord, Splicer
from guidekit.drawn.spans.copying import Wanted, digest_compared, write_pieces
from guidekit.drawn.spans.source import ByteSpan, Piece, Source, size_of
from guidekit.drawn.unfit import UnfitError, broken
from guidekit.layers.model import Stack
from guidekit.raster.blend import flat_strips
from guidekit.store.files import flush
from guidekit.writers.pixels.grey import stored_inks, stored_paper
from guidekit.writers.psd.channels import merged_channels
from guidekit.writers.psd.resources import packed_picture

RLE = b"\0\1"  # "Image data section": compression
ROOM = 1 << 15  # bytes of the small picture: the noisiest takes 25,000


@dataclass(frozen=True)
class PsdRefresh:
    """What is to be done to one file; nothing if it is not `changed`."""

    drawing: PsdDrawing
    place: CanvasPlace
    found: Arranged
    splicer: Splicer
    outs: tuple[NewRecord, ...]
    told: dict[int, bytes]
    image: Merged | None
    changed: bool

    @property
    def notes(self) -> list[str]:
        """What is worth telling."""
        return self.found.notes

    def make(self) -> None:
        """Work out what the new file shows. Raises `UnfitError`, `OSError`."""
        if self.image:
            self.image.make()

    def close(self) -> None:
        """Let go of what is open."""
        if self.image:
            self.image.close()

    def write(self, file: BinaryIO, made: Callable[[], None], wanted: Wanted) -> None:
        """Write the new file: the layers while what they show is made, which `made` waits for.

        The head, which has a small picture of it, is written last; its size is known before. Raises
        `UnfitError`, `OSError`.
        """
        source, image = self.drawing.source, self.image
        file.seek(size_of(self._head(bytes(ROOM) if image else b"")))
        write_pieces(wanted(self.splicer.layers(self.outs)), source, file)
        flush(file)
        made()
        write_pieces(image.pieces() if image else self._stale(), source, file)
        file.seek(0)
        small = packed_picture(np.asarray(image.small.image), ROOM) if image else b""
        write_pieces(self._head(small), source, file)

    def check(self, file: BufferedReader) -> str:
        """Compare every layer that is kept with the old file; the SHA-256 of the new one.

        Raises `UnfitError`, `OSError`.
        """
        source = Source(file)
        new = layers_of(source, sections_of(source)).records
        if len(new) != len(self.outs):
            raise broken("the new file would not have the layers that it should")
        old = self.drawing.info.records
        kept = {out.old for out in self.outs}
        if not {record.place for record in old} - kept <= self.found.given_up:
            raise broken("a layer would be missing in the new file")
        return digest_compared(source, self.drawing.source, self._pairs(source, new))

    def _pairs(
        self, source: Source, new: Sequence[LayerRecord]
    ) -> Iterator[tuple[ByteSpan, ByteSpan]]:
        """Where the data of every channel lies that is to be as in the old file; the rest is."""
        for out, record in zip(self.outs, new, strict=True):
            if record.raw != out.record:
                raise broken("a layer would not be in the new file as it should")
            for (piece,), (_, span) in zip(out.channels, record.channels, strict=True):
                if isinstance(piece, ByteSpan):
                    yield span, piece
                elif source.read(span) != piece:
                    raise broken("a layer would not be in the new file as it should")

    def _head(self, small: bytes) -> list[Piece]:
        real = self.image is not None
        return self.splicer.head(new_resources(self.drawing, self.told, real, small))

    def _stale(self) -> Sequence[Piece]:
        """The old merged image, or where that is of another size the page without the drawing."""
        header, old = self.drawing.header, self.drawing.sections.merged
        if self.drawing.size == (self.place.width, self.place.height):
            return [old]
        if header.channels > header.colours:
            raise UnfitError(
                "it has channels beside its layers, and the canvas changes its size",
                "Take them out in the app, or build into another folder.",
            )
        stack = self.splicer.stack
        strips = flat_strips(stored_inks(stack), stack.canvas, stored_paper(stack))
        return [RLE, *merged_channels(strips, stack.grey, self.splicer.encoding)]


def planned(
    drawing: PsdDrawing,
    old: Sequence[Want],
    stack: Stack,
    place: CanvasPlace,
    given: frozenset[Name] | None,
) -> PsdRefresh:
    """What becomes of an open file; raises `UnfitError`."""
    moved = drawing.size != (place.width, place.height) or bool(place.x or place.y)
    found = arranged(drawing, old, stack, moved=moved, given=given)
    splicer = Splicer(drawing, stack, place)
    outs = tuple(splicer.outs(found.parts))
    told = changed_resources(drawing, stack, [out.old for out in outs])
    changed = found.changed or moved or bool(told)
    image = _merged(splicer, found) if changed else None
    return PsdRefresh(drawing, place, found, splicer, outs, told, image, changed)


def _merged(splicer: Splicer, found: Arranged) -> Merged | None:
    """The merged image to be; None, and a note, where nobody can say how it looks."""
    place = splicer.place
    try:
        return Merged(splicer.drawing, splicer.stack, found.parts, (place.x, place.y))
    except UnknownError as error:
        preview = "the preview in the file is the old one, and is marked so"
        found.notes.append(error.told(preview))
        return None
