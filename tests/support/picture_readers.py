"""The layers of a layered file as four readers see them, each with a parser of its own.

A layer is a `Seen`: its pixels as red, green, blue, alpha, and where they lie. Layers come the
lowest first; groups and layers without pixels are left out, for not every reader tells of them.
"""

import re
from pathlib import Path
from typing import Literal, NamedTuple

import numpy as np
import pytest
from PIL import Image
from psd_tools import PSDImage
from psd_tools.api.layers import Group, Layer
from psd_tools.api.mask import Mask

from support.programs import output
from support.psd_walk import Record, walk

#: Pixels on an edge that ImageMagick opens as it is packaged: its policy file says 16 KP.
IMAGEMAGICK_LIMIT = 16_000
#: Pixels on an edge that psd-tools turns into pictures, whether PSD or PSB.
PSD_TOOLS_LIMIT = 30_000


Channel = Literal["color", "shape", "alpha", "mask"]


class Seen(NamedTuple):
    """A rectangle of pixels, 8 bits a channel, the corner where it begins, and what it is called.

    `visible` is the layer's own state; its groups are not looked at.
    """

    left: int
    top: int
    pixels: np.ndarray
    name: str = ""
    opacity: int = 255
    visible: bool = True

    def on(self, size: tuple[int, int]) -> np.ndarray:
        """The pixels on a clear canvas of this width and height."""
        canvas = np.zeros((size[1], size[0], 4), np.uint8)
        height, width = self.pixels.shape[:2]
        canvas[self.top : self.top + height, self.left : self.left + width] = self.pixels
        return canvas


def imagemagick_opens(size: tuple[int, int]) -> None:
    """Skip what ImageMagick does not open as it is packaged."""
    if max(size) > IMAGEMAGICK_LIMIT:
        pytest.skip(f"ImageMagick opens {IMAGEMAGICK_LIMIT:,} px at most, as it is packaged")


def by_bytes(path: Path) -> list[Seen]:
    """The layers as our own walk over the bytes finds them; opacity is not applied."""
    return [
        Seen(r.left, r.top, _pixels(r), r.unicode_name, r.opacity, not r.flags & 2)
        for r in walk(path.read_bytes()).records
        if r.right > r.left
    ]


def _pixels(record: Record) -> np.ndarray:
    colours = (0, 0, 0) if 1 not in record.planes else (0, 1, 2)
    planes = [b"".join(record.planes[channel] or []) for channel in (*colours, -1)]
    shape = (record.bottom - record.top, record.right - record.left)
    return np.stack([np.frombuffer(plane, np.uint8).reshape(shape) for plane in planes], axis=2)


def by_psd_tools(path: Path) -> list[Seen]:
    """The layers as psd-tools reads them; opacity is not applied."""
    return [
        Seen(layer.left, layer.top, _rgba(layer), layer.name, layer.opacity, layer.visible)
        for layer in PSDImage.open(path).descendants()
        if not layer.is_group() and layer.width
    ]


def values(layer: Layer | PSDImage, channel: Channel | None = None) -> np.ndarray:
    """The values of a file or layer, or of one kind of its channels, from 0 to 1."""
    found = layer.numpy(channel)
    assert found is not None
    return found


def mask_of(layer: Layer) -> Mask:
    """The mask of a layer that has one."""
    assert layer.mask is not None
    return layer.mask


def groups_of(file: PSDImage) -> dict[str, Group]:
    """The groups of a file that are in no other, by name, the lowest first."""
    return {group.name: group for group in file if isinstance(group, Group)}


def merged_by_psd_tools(file: PSDImage) -> Image.Image:
    """The merged image, without its profile applied."""
    picture = file.topil(apply_icc=False)
    assert isinstance(picture, Image.Image)
    return picture


def _rgba(layer: Layer) -> np.ndarray:
    parts: np.ndarray = np.rint(values(layer) * 255).astype(np.uint8)
    return parts[..., [0, 0, 0, 1]] if parts.shape[2] == 2 else parts


def by_imagemagick(path: Path) -> list[Seen]:
    """Every picture of a file as ImageMagick reads it: of a layered one the merged image first.

    The opacity of a layer is applied to its alpha.
    """
    pixels = output("convert", path, "-depth", "8", "rgba:-")
    seen, at = [], 0
    for line in output("identify", "-format", "%X %Y %w %h\n", path).splitlines():
        left, top, width, height = map(int, line.split())
        part = np.frombuffer(pixels, np.uint8, width * height * 4, at)
        seen.append(Seen(left, top, part.reshape(height, width, 4)))
        at += len(part)
    assert at == len(pixels)
    return seen


def without_thumbnail(path: Path, folder: Path) -> Path:
    """A copy for OpenImageIO, in which image resource 1036 has a number of no meaning.

    Of a file with a thumbnail version 2.4 aborts on writing a part, and on closing it may wait for
    itself for ever: it then closes the picture within the picture, and whether both need one and
    the same lock hangs on the file's name (seen in gdb: ImageCacheImpl::close within itself).
    """
    copy = folder / path.name
    copy.write_bytes(path.read_bytes().replace(b"8BIM\x04\x0c", b"8BIM\x0f\xa0", 1))
    return copy


def by_openimageio(path: Path, folder: Path) -> list[Seen]:
    """The merged image, then the layers and their names; opacity is not applied.

    This reader multiplies colours by alpha, so that only opaque pixels have their very colour.
    Its pictures go through files in `folder`.
    """
    path = without_thumbnail(path, folder)
    text = output("oiiotool", "--info", "-v", "-a", path).decode(errors="replace")
    places = []
    commands: list[str | Path] = [path, "--label", "all"]  # the file is opened once
    for part in re.split(r"^ *subimage +(?=\d+:)", text, flags=re.MULTILINE)[1:]:
        number, width = re.findall(r"\d+", part)[:2]
        if width != "0":
            name = re.search(r'oiio:subimagename: "(.*)"', part)
            corner = re.search(r"pixel data origin: x=(\d+), y=(\d+)", part)
            left, top = map(int, corner.groups()) if corner else (0, 0)
            file = folder / f"{number}.tif"
            commands += ["all", "--subimage", number, "--fullpixels", "-o", file]
            places.append((left, top, file, name[1] if name else ""))
    output("oiiotool", "--native", "--compression", "none", *commands)
    return [Seen(x, y, np.asarray(Image.open(file)), name) for x, y, file, name in places]
