"""The rows of a PNG from the top down, a few at a time: a layer is never in memory as a whole.

A filter reaches no further than the row above, and works on each byte of a pixel for itself (PNG,
section 9). So any rows, below the one that comes before them, are a picture that Pillow can
unfilter; of samples of 16 bits the high bytes alone are one too.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from tempfile import TemporaryFile
from typing import IO, NamedTuple

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from guidekit.drawn.composing.runs import DistinctRows
from guidekit.store.picture import picture_in
from guidekit.writers.png.encode import SIGNATURE

BLOCK = 1 << 18  # bytes read or unpacked at a time
NONE, SUB, UP = 0, 1, 2  # filter types, section 9.2
MODES = {0: "L", 2: "RGB", 4: "LA", 6: "RGBA"}  # by colour type, section 11.2.1

Rgba = NDArray[np.uint8]


class PngHead(NamedTuple):
    """IHDR, section 11.2.1: sizes in pixels, bits of a sample."""

    width: int
    height: int
    depth: int
    colour_type: int
    compression: int
    filtering: int
    interlacing: int


def head_of(file: IO[bytes]) -> PngHead:
    """The head of a PNG, from its beginning. Raises what is in `NO_PICTURE`."""
    signature, size, kind, *values = struct.unpack(">8sI4s2I5B4x", file.read(33))
    head = PngHead(*values)
    if (signature, size, kind) != (SIGNATURE, 13, b"IHDR") or not head.width * head.height:
        raise ValueError("this is no PNG")
    return head


def rgba_rows(file: IO[bytes], first: int, many: int) -> Iterator[DistinctRows]:
    """Red, green, blue and alpha, (rows, width, 4): `first` rows, and then so `many` each time.

    Raises what is in `guidekit.store.picture.NO_PICTURE`.
    """
    head = head_of(file)
    whole = head.depth in (8, 16) and head.colour_type in MODES and not head.interlacing
    if whole and not _has_clear_colour(file):
        yield from _plain_rows(file, head, first, many)
        return
    file.seek(0)
    with TemporaryFile() as plain:
        with picture_in(file, ("PNG",)) as image:
            image.convert("RGBA").save(plain, "PNG", compress_level=0)
        plain.seek(0)
        yield from rgba_rows(plain, first, many)


def _has_clear_colour(file: IO[bytes]) -> bool:
    """True if one colour is clear (section 11.3.1.1). The file stays where it is."""
    begin, found = file.tell(), False
    while (head := file.read(8))[4:] not in (b"IDAT", b""):
        found |= head[4:] == b"tRNS"
        file.seek(int.from_bytes(head[:4], "big") + 4, 1)
    file.seek(begin)
    return found


def _plain_rows(file: IO[bytes], head: PngHead, first: int, many: int) -> Iterator[DistinctRows]:
    """Rows of whole bytes; one that is as the one above it is not unfiltered again."""
    bands = _Unfilter(head)
    lines, left, count = _lines(file, 1 + bands.size), head.height, first
    while left:
        rows = [*islice(lines, min(count, left))]
        if not rows:
            raise ValueError("its rows end too soon")
        left, count = left - len(rows), many
        while not left and file.read(BLOCK):
            pass  # to the end, where the archive compares its check sum
        yield bands.of(rows)


class _Unfilter:
    """Makes pixels of filtered rows, which come from the top down."""

    def __init__(self, head: PngHead):
        self.mode, self.width = MODES[head.colour_type], head.width
        self.step = head.depth // 8  # of its bytes the first is taken
        self.size = self.width * len(self.mode) * self.step
        self.nothing = bytes(self.size)
        self.above = bytes(self.width * len(self.mode))
        self.is_clear = True  # the row above

    def of(self, rows: Sequence[bytes]) -> DistinctRows:
        """The pixels of the next rows."""
        fresh = [place for place, row in enumerate(rows) if not self._is_as_above(row)]
        packed = zlib.compress(self._picture(rows[place] for place in fresh), 0)
        size = self.width, 1 + len(fresh)
        image = Image.frombytes(self.mode, size, packed, "zip", self.mode)
        self.above = image.crop((0, len(fresh), *size)).tobytes()
        heights = np.diff([0, *fresh, len(rows)])
        begin = 0 if heights[0] else 1  # the row above stands for those that are as it is
        return DistinctRows(np.asarray(image.convert("RGBA"))[begin:], heights[begin:])

    def _is_as_above(self, row: bytes) -> bool:
        """True where nothing is added to the row above, or nothing to nothing."""
        blank = row.endswith(self.nothing)
        if blank and (self.is_clear or row[0] == UP):
            return True
        self.is_clear = blank and row[0] in (NONE, SUB)
        return False

    def _picture(self, rows: Iterable[bytes]) -> bytes:
        """The row above and some below it, filtered, of 8 bits a sample."""
        high = (row[:1] + row[1 :: self.step] for row in rows) if self.step > 1 else rows
        return b"".join([bytes([NONE]), self.above, *high])


def _lines(file: IO[bytes], size: int) -> Iterator[bytes]:
    """Rows of so many bytes, each as it is filtered, its filter type first."""
    found = b""
    for piece in _inflated(_image_data(file), max(BLOCK, size)):
        found += piece
        end = len(found) // size * size
        yield from (found[at : at + size] for at in range(0, end, size))
        found = found[end:]


def _inflated(blocks: Iterable[bytes], most: int) -> Iterator[bytes]:
    stream = zlib.decompressobj()
    for block in blocks:
        packed = block
        while packed:
            yield stream.decompress(packed, most)
            packed = stream.unconsumed_tail
    yield stream.flush()


def _image_data(file: IO[bytes]) -> Iterator[bytes]:
    """What the IDAT chunks hold (section 11.2.3), in blocks; `file` stands behind a chunk."""
    while len(head := file.read(8)) == 8:
        left = int.from_bytes(head[:4], "big")
        while left and (block := file.read(min(left, BLOCK))):
            left -= len(block)
            if head[4:] == b"IDAT":
                yield block
        file.read(4)  # its check sum: the archive has one for all
