"""What each reader sees of a flat file, and of any file what serves for flat ones too.

See tests/support/readers_seen.py for what a reader gives back.
"""

import subprocess
from collections.abc import Callable
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from PIL import Image

from support.picture_readers import by_imagemagick
from support.programs import HANG

Facts = dict[str, Any]
DPI = 350  # at which pages in points and millimetres are turned into pixels


def told(*command: str | Path) -> str:
    """What a program prints on both channels."""
    line = [*map(str, command)]
    done = subprocess.run(line, capture_output=True, check=True, timeout=HANG)
    return (done.stdout + done.stderr).decode(errors="replace")


def pillow(path: Path) -> Facts:
    """Any raster file by Pillow; of a layered one the names of its records."""
    with Image.open(path) as image:
        facts = _flat(image)
        names = [record[0] for record in getattr(image, "layers", [])]
        if names:
            facts["members"] = [{"name": n} for n in names[::-1] if n != "</Layer group>"]
        return facts


def _flat(image: Image.Image) -> Facts:
    facts: Facts = {"size": image.size, "page": np.asarray(image.convert("RGBA"))}
    if "dpi" in image.info:
        facts["resolution"] = float(image.info["dpi"][0])
    if "srgb" in image.info:  # PNG: the chunk sRGB in place of a profile
        facts["profile"] = b"acsp"
    if "icc_profile" in image.info:
        facts["profile"] = image.info["icc_profile"]
    return facts


def imagemagick(path: Path) -> Facts:
    """Any raster file by ImageMagick; of a layered one the layers that have pixels."""
    form = "%w %h %x %U\t%l\t%[compose]\t%[artifact:psd:layer.opacity]\n"
    first, *layers = told("identify", "-format", form, path).splitlines()
    width, height, dpi, unit = first.split("\t")[0].split()
    pictures = by_imagemagick(path)
    scale = 2.54 if unit == "PixelsPerCentimeter" else 1
    facts: Facts = {
        "size": (int(width), int(height)),
        "resolution": float(dpi) * scale,
        "page": pictures[0].pixels,
    }
    if "Profile-icc" in told("identify", "-verbose", f"{path}[0]"):
        with TemporaryDirectory() as folder:
            told("convert", f"{path}[0]", Path(folder, "seen.icc"))
            facts["profile"] = Path(folder, "seen.icc").read_bytes()
    if layers:
        facts["members"] = [
            {
                "name": name,
                "visibility": compose != "None",
                "opacity": round(int(opacity) / 257),
                "blend mode": {"Over": "normal", "None": "normal"}.get(compose, compose.lower()),
                "pixels": picture,
            }
            for (_, name, compose, opacity), picture in zip(
                (line.split("\t") for line in layers), pictures[1:], strict=True
            )
        ][::-1]
    return facts


def tifffile(path: Path) -> Facts:
    """TIFF by tifffile."""
    with import_module("tifffile").TiffFile(path) as file:
        page = file.pages[0]
        across, per = page.tags["XResolution"].value
        return {
            "size": (page.imagewidth, page.imagelength),
            "resolution": across / per,
            "profile": page.tags["InterColorProfile"].value,
            "page": page.asarray(),
        }


def pikepdf(path: Path) -> Facts:
    """PDF by pikepdf: the size of its trim box."""
    with import_module("pikepdf").open(path) as file:
        return {"size": _size(*map(float, file.pages[0].trimbox))}


def poppler(path: Path) -> Facts:
    """PDF by poppler: the size of its trim box."""
    (line,) = [x for x in told("pdfinfo", "-box", path).splitlines() if x.startswith("TrimBox")]
    return {"size": _size(*map(float, line.split()[1:]))}


def _size(left: float, bottom: float, right: float, top: float) -> tuple[int, int]:
    return round((right - left) * DPI / 72), round((top - bottom) * DPI / 72)


def librsvg(path: Path) -> Facts:
    """SVG by librsvg: its size as drawn at the resolution, and its pixels at the canvas's size."""
    with TemporaryDirectory() as folder:
        free, fitted = Path(folder, "free.png"), Path(folder, "fitted.png")
        told("rsvg-convert", "-d", str(DPI), "-p", str(DPI), "-o", free, path)
        told("rsvg-convert", "-w", "301", "-h", "203", "-o", fitted, path)
        with Image.open(free) as image, Image.open(fitted) as drawn:
            return {"size": image.size, "page": np.asarray(drawn.convert("RGBA"))}


def package(name: str) -> Callable[[], str]:
    """A Python package's version."""
    return lambda: version(name)


def program(*command: str, word: int) -> Callable[[], str]:
    """A program's version: one word of what it prints."""
    return lambda: told(*command).split()[word]
