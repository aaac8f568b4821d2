"""Rows that somebody drew, in PackBits: by psd-tools, for they are no runs of ours."""

from __future__ import annotations

from psd_tools.compression import rle_impl  # type: ignore[attr-defined]  # compiled, or not

from guidekit.drawn.unfit import broken


def packed(row: bytes) -> bytes:
    """A row as PackBits."""
    return bytes(rle_impl.encode(row))


def unpacked(data: bytes, size: int) -> bytes:
    """Rows of so many bytes together; raises `UnfitError` if they are not."""
    try:
        rows = bytes(rle_impl.decode(data, size))
    except (ValueError, IndexError):
        raise broken("a layer cannot be unpacked") from None
    if len(rows) != size:
        raise broken("the rows of a layer are not as wide as the layer")
    return rows
