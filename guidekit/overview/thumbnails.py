"""Small pictures of what is drawn, out of the files in a folder.

A layered file brings one along: PSD and PSB as image resource 1036 (Thumbnail resource format),
OpenRaster as ``Thumbnails/thumbnail.png``. Where there is none, and for flat files, the whole
picture is made smaller.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BufferedReader, BytesIO
from pathlib import Path
from typing import BinaryIO

from PIL import Image

from guidekit.drawn.psd.sections import sections_of
from guidekit.drawn.spans.source import Source
from guidekit.drawn.unfit import UnfitError
from guidekit.plane.box import Box
from guidekit.store.archives import UNREADABLE, archive_in
from guidekit.store.files import open_ordinary
from guidekit.store.picture import NO_PICTURE, picture_in

LONGEST = 360  # px of a thumbnail's longer edge
MOST_BYTES = 15_000  # of its JPEG, so that in base64 it stays below 20 kB
MOST_PIXELS = 120_000_000  # of a picture that is read whole
THUMBNAIL, HEADER = 1036, 28  # the JPEG begins behind so many bytes
FORMATS = ("PSD", "PNG", "JPEG", "TIFF")  # no others, of which some start programs to be read
IN_ORA = "Thumbnails/thumbnail.png"
LARGEST_IN_ORA = 2_000_000  # bytes; the standard allows 256 px


def thumbnail_of(path: Path, canvas: Box, seen: Box) -> bytes | None:
    """A JPEG of the part of a canvas that is `seen`; None where no picture can be read.

    Raises `OSError` where the file cannot be read.
    """
    with open_ordinary(path) as file:
        if file is None:
            return None
        for data in _candidates(file):
            if picture := _opened(data):
                return _small(picture, canvas, seen)
    return None


def _candidates(file: BufferedReader) -> Iterator[BinaryIO]:
    """What a picture may be read from, the smallest first."""
    head = file.read(4)
    try:
        if head[:2] == b"PK":
            with archive_in(file) as ora, ora.open(IN_ORA) as inside:
                yield BytesIO(inside.read(LARGEST_IN_ORA))
            return
        if head == b"8BPS":
            source = Source(file)
            if found := sections_of(source).resource(THUMBNAIL):
                yield BytesIO(source.read(found.data)[HEADER:])
    except (UnfitError, *UNREADABLE):
        return
    file.seek(0)
    yield file


def _opened(data: BinaryIO) -> Image.Image | None:
    """A picture on white; None where it is none, or too large to be read whole."""
    try:
        picture: Image.Image = picture_in(data, FORMATS)
        if picture.width * picture.height > MOST_PIXELS:
            return None
        if picture.mode in ("RGBA", "LA", "P"):
            clear = picture.convert("RGBA")
            picture = Image.new("RGBA", clear.size, "white")
            picture.alpha_composite(clear)
        return picture.convert("RGB")
    except NO_PICTURE:
        return None


def _small(picture: Image.Image, canvas: Box, seen: Box) -> bytes:
    across, down = picture.width / canvas.width, picture.height / canvas.height
    part = seen.shifted(-canvas.left, -canvas.top)
    area = (part.left * across, part.top * down, part.right * across, part.bottom * down)
    scale = min(1, LONGEST / max(area[2] - area[0], area[3] - area[1]))
    size = (round((area[2] - area[0]) * scale) or 1, round((area[3] - area[1]) * scale) or 1)
    small = picture.resize(size, Image.Resampling.BOX, box=area)
    for quality in (80, 60, 40, 20, 5):
        file = BytesIO()
        small.save(file, "JPEG", quality=quality, optimize=True)
        if file.tell() <= MOST_BYTES:
            break
    return file.getvalue()
