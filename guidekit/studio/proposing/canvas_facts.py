"""What a finished canvas says of its page format: size, resolution, ruler guides, colour, depth."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.psd.sections import GREY, Sections, dpi_of, sections_of
from guidekit.drawn.spans.source import Source
from guidekit.drawn.unfit import UnfitError
from guidekit.errors import InputError, MachineError, Problem
from guidekit.store.files import open_ordinary
from guidekit.store.picture import NO_PICTURE, picture_in

RULERS = 1032  # "Image resource IDs"; "Grid and guides resource format"
SUBPIXELS = 32  # of a position there
ENDINGS = (".psd", ".psb", ".ora", ".png", ".tif", ".tiff")


@dataclass(frozen=True)
class CanvasFacts:
    """Width and height in pixels, and what else the file says.

    `dpi` is None where it is silent. `upright` and `level` are the x and y of its ruler guides.
    """

    width: int
    height: int
    dpi: int | None = None
    grey: bool = False
    depth: int = 8
    upright: tuple[float, ...] = ()
    level: tuple[float, ...] = ()


def canvas_of(path: Path) -> CanvasFacts:
    """What the file of a canvas says; raises `InputError`, `MachineError`."""

    def bad(came: str) -> InputError:
        allowed = "a canvas as PSD, OpenRaster, PNG or TIFF"
        return InputError(Problem((), came, allowed, file=path))

    ending = path.suffix.lower()
    if ending not in ENDINGS:
        raise bad("this is no canvas, by its name")
    try:
        with open_ordinary(path) as file:
            if file is None:
                raise bad("there is no such file" if not path.exists() else "this is no file")
            if ending in (".psd", ".psb"):
                return _psd(Source(file))
            if ending == ".ora":
                drawing = OraDrawing(Source(file))
                return CanvasFacts(*drawing.size, _whole(drawing.dpi))
            return _picture(path)
    except UnfitError as error:
        raise bad(f"this cannot be read: {error.came}") from None
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None


def _whole(dpi: float | None) -> int | None:
    return round(dpi) if dpi and dpi >= 1 else None


def _psd(source: Source) -> CanvasFacts:
    sections = sections_of(source)
    header, rulers = sections.header, [*_rulers(source, sections)]
    return CanvasFacts(
        header.width,
        header.height,
        _whole(dpi_of(source, sections)),
        header.mode == GREY,
        16 if header.depth > 8 else 8,
        tuple(sorted({at for at, is_level in rulers if not is_level})),
        tuple(sorted({at for at, is_level in rulers if is_level})),
    )


def _rulers(source: Source, sections: Sections) -> Iterator[tuple[float, bool]]:
    """Where ruler guides lie, and whether each is a level one."""
    found = sections.resource(RULERS)
    data = source.read(found.data) if found else b""
    if len(data) >= 16:
        (count,) = struct.unpack_from(">I", data, 12)
        for i in range(min(count, (len(data) - 16) // 5)):
            at, direction = struct.unpack_from(">IB", data, 16 + 5 * i)
            yield at / SUBPIXELS, direction == 1


def _picture(path: Path) -> CanvasFacts:
    try:
        with picture_in(path, ("PNG", "TIFF")) as image:
            across = image.info.get("dpi", (None, None))[0]
            deep = image.mode.startswith("I") or image.info.get("bits") == 16
            grey = image.mode in ("1", "L", "LA", "I", "I;16", "I;16B")
            dpi = _whole(float(across)) if across else None
            return CanvasFacts(*image.size, dpi, grey, 16 if deep else 8)
    except NO_PICTURE as error:
        if isinstance(error, OSError) and error.errno is not None:
            raise  # the disk fails
        came = "this cannot be read: it is no such picture, or a broken one"
        raise InputError(Problem((), came, "a PNG or TIFF file", file=path)) from None
