"""Rows that somebody drew, in PackBits: by psd-tools, for they are no runs of ours."""

from __future__ import annotations

from collections.abc import Iterable

from psd_tools.compression import rle_impl  # type: ignore[attr-defined]  # compiled, or not

from guidekit.drawn.unfit import broken


def packed(row: bytes) -> bytes:
    """A row as PackBits."""
    return bytes(rle_impl.encode(row))


def unpacked(rows: Iterable[bytes], size: int) -> bytes:
    """Rows of so many bytes each, one behind the other; raises `UnfitError` if they cannot be.

    As other programs read them, none reaches into the next: one that is too long is cut off, one
    that is too short ends in zeros.
    """
    try:
        return b"".join([rle_impl.decode(row, size) for row in rows])
    except (ValueError, IndexError):
        raise broken("a layer cannot be unpacked") from None
