"""Pictures that somebody else has written."""

from __future__ import annotations

from pathlib import Path
from typing import IO, TYPE_CHECKING

from guidekit.store.archives import UNREADABLE

if TYPE_CHECKING:
    from PIL import Image

#: What Pillow raises for what is no picture or a broken one, some of it only when its pixels are
#: read: OSError also where the disk fails.
NO_PICTURE = (OSError, SyntaxError, *UNREADABLE)


def picture_in(file: IO[bytes] | Path, formats: tuple[str, ...]) -> Image.Image:
    """A picture of which only the head is read yet; raises what is in `NO_PICTURE`.

    How many pixels are too many its caller says: Pillow's own limit lies below a spread at
    1,200 dpi, and warns at half of that.
    """
    from PIL import Image, UnidentifiedImageError

    Image.MAX_IMAGE_PIXELS = None  # there is none for one picture alone
    try:
        return Image.open(file, formats=formats)
    except UnidentifiedImageError:
        raise ValueError("this is no such picture") from None
