"""One OpenRaster file with the guides of today: planned, written, and compared with the old one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from io import BufferedReader
from typing import BinaryIO

from guidekit.drawn.composing.compose import UnknownError
from guidekit.drawn.ora.archive import Member, members_of, pieces_of, stored
from guidekit.drawn.ora.drawing import STACK, OraDrawing
from guidekit.drawn.ora.merged import merged_png, retold_png
from guidekit.drawn.ora.stack import NewStack, dropped
from guidekit.drawn.ours.arranged import arranged
from guidekit.drawn.ours.at_work import Arranged
from guidekit.drawn.ours.layer_tree import CanvasPlace
from guidekit.drawn.ours.wants import Name, Want
from guidekit.drawn.spans.copying import Wanted, digest_compared, write_pieces
from guidekit.drawn.spans.source import ByteSpan, Source, Spool
from guidekit.drawn.unfit import broken
from guidekit.layers.model import Stack

MERGED, THUMBNAIL = "mergedimage.png", "Thumbnails/thumbnail.png"


@dataclass(frozen=True)
class OraRefresh:
    """What is to be done to one file; nothing if it is not `changed`."""

    drawing: OraDrawing
    stack: Stack
    place: CanvasPlace
    found: Arranged
    changed: bool
    _open: ExitStack = field(default_factory=ExitStack)
    _made: list[Member] = field(default_factory=list)

    @property
    def notes(self) -> list[str]:
        """What is worth telling."""
        return self.found.notes

    def make(self) -> None:
        """Work out all files inside. Raises `UnfitError`, `OSError`."""
        self._made.extend(self._members())

    def close(self) -> None:
        """Let go of what is open."""
        self._open.close()

    def write(self, file: BinaryIO, made: Callable[[], None], wanted: Wanted) -> None:
        """Write the new file, once `made` has waited for all that is in it.

        Raises `UnfitError`, `OSError`.
        """
        made()
        write_pieces(wanted(pieces_of(self._made)), self.drawing.source, file)

    def check(self, file: BufferedReader) -> str:
        """Compare every file inside that is kept with the old one; the SHA-256 of the new one.

        Raises `UnfitError`, `OSError`.
        """
        source = Source(file)
        OraDrawing(source)
        return digest_compared(source, self.drawing.source, self._pairs(members_of(source)))

    def _pairs(self, new: dict[str, Member]) -> Iterator[tuple[ByteSpan, ByteSpan]]:
        """Where the files inside lie that are to be as in the old one."""
        gone = dropped(self.drawing, self._document())
        for name, member in self.drawing.archive.items():
            if name in (STACK, MERGED, THUMBNAIL) or name in gone:
                continue
            spans = name in new and new[name].data, member.data
            if not isinstance(spans[0], ByteSpan) or not isinstance(spans[1], ByteSpan):
                raise broken(f"{name} would be missing in the new file")
            yield spans[0], spans[1]

    def _document(self) -> NewStack:
        return NewStack(self.drawing, self.stack, self.place, self.found.parts)

    def _members(self) -> list[Member]:
        new = self._document()
        gone = dropped(self.drawing, new)
        changed = {STACK: stored(STACK, new.document)}
        drawing, merged = self.drawing, Spool()
        self._open.callback(merged.close)
        try:
            small = merged_png(drawing, self.found.parts, self.stack, self.place, merged)
            changed |= {MERGED: stored(MERGED, merged), THUMBNAIL: stored(THUMBNAIL, small)}
        except UnknownError as error:
            self.found.notes.append(error.told("the preview in the file is the old one"))
            if MERGED in drawing.archive:
                with drawing.opened(MERGED) as old:
                    if retold_png(old, self.stack, merged):
                        changed[MERGED] = stored(MERGED, merged)
        kept = [m for name, m in self.drawing.archive.items() if name not in gone | changed.keys()]
        return [*kept, *new.added.values(), *changed.values()]


def planned_ora(
    drawing: OraDrawing,
    old: Sequence[Want],
    stack: Stack,
    place: CanvasPlace,
    given: frozenset[Name] | None,
) -> OraRefresh:
    """What becomes of an open file; raises `UnfitError`."""
    size = place.width, place.height
    moved = bool(place.x or place.y) or drawing.size != size
    layers = [want for want in old if want.colour]  # the format has no masks
    found = arranged(drawing, layers, stack, moved=moved, given=given)
    return OraRefresh(drawing, stack, place, found, found.changed or moved)
