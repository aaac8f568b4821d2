"""A file in memory as a list of pieces: large ones are kept as they came and never copied.

Pages share most of their bytes; kept as pieces, they share them in memory too.
"""

from __future__ import annotations

from io import SEEK_CUR, RawIOBase
from typing import Any


class Pieces(RawIOBase):
    """A file to write to from start to end, where a gap may be left and filled in later.

    `seek` forward from the end leaves a gap; `seek` back to a gap and `write` of exactly its size
    fills it. Nothing else can be overwritten.
    """

    def __init__(self) -> None:
        self.pieces: list[bytes] = []
        self._size = self._at = 0
        self._gaps: dict[int, int] = {}  # where a gap begins → which piece it is

    def tell(self) -> int:
        """Where the next byte goes."""
        return self._at

    def seek(self, offset: int, whence: int = 0) -> int:
        """Move to a place; beyond the end, leave a gap."""
        self._at = offset + (self._at if whence == SEEK_CUR else 0)
        if self._at > self._size:
            self._gaps[self._size] = len(self.pieces)
            self.pieces.append(bytes(self._at - self._size))
            self._size = self._at
        return self._at

    def write(self, data: Any) -> int:
        """Add bytes at the end, or fill a gap."""
        if self._at == self._size:
            self.pieces.append(data)
            self._size += len(data)
        else:
            piece = self._gaps[self._at]
            if len(self.pieces[piece]) != len(data):
                raise ValueError(f"{len(data)} bytes for a gap of {len(self.pieces[piece])}")
            self.pieces[piece] = data
        self._at += len(data)
        return len(data)
