"""Which pictures are made of a stack."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import numpy as np

from guidekit.layers.model import Stack, all_layers
from guidekit.raster.bands import Bands
from guidekit.raster.blend import Ink, flatten
from guidekit.writers.pixels.grey import stored_colour, stored_inks, stored_paper
from guidekit.writers.pixels.pixel_format import PixelFormat
from guidekit.writers.png.encode import encode_png, encode_small_png
from guidekit.writers.png.words import words
from guidekit.writers.protocol import Limits, Output

LARGEST_PNG = 2**31 - 1  # section 7.1: four-byte integers stay below 2^31


class GuidesPngWriter:
    """One transparent picture of all that is visible above the backdrop."""

    name = "png"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PNG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        form = PixelFormat(stack.grey, alpha=True, depth=stack.depth)
        picture = _clear(stored_inks(stack, backdrop=False), stack)
        yield Output(f"{stack.file_name}.png", encode_png(picture, form, stack.dpi, words(stack)))


class SmallPngWriter:
    """The same picture with a palette, where its colours go into one."""

    name = "png-small"

    def limits(self, dpi: int) -> Limits:
        """What the format holds; the colours of a palette have 8 bits a channel."""
        return Limits(LARGEST_PNG, depth=8)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        picture = _clear(stored_inks(stack, backdrop=False), stack)
        pieces = encode_small_png(picture, stack.dpi, words(stack))
        yield Output(f"{stack.file_name}-small.png", pieces)


class PagePngWriter:
    """One opaque picture of the canvas as it is seen."""

    name = "png-page"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PNG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        form = PixelFormat(stack.grey, alpha=False, depth=stack.depth)
        picture = flatten(stored_inks(stack), stack.canvas, stored_paper(stack))
        pieces = encode_png(picture, form, stack.dpi, words(stack))
        yield Output(f"{stack.file_name}-page.png", pieces)


class LayersPngWriter:
    """Every layer as a transparent picture of the whole canvas, in a folder, uppermost first."""

    name = "png-layers"

    def limits(self, dpi: int) -> Limits:
        """What the format holds; groups are lost, and with them their masks."""
        return Limits(LARGEST_PNG, masks=False)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file a layer; their names sort in the order of the stack."""
        layers = list(all_layers(stack.members))
        digits = max(2, len(str(len(layers))))
        form = PixelFormat(stack.grey, alpha=True, depth=stack.depth)
        for number, layer in enumerate(layers, 1):
            name = f"{stack.file_name}/{number:0{digits}} {plain_name(layer.name)}.png"
            colour = stored_colour(layer.colour, stack.grey)
            ink = Ink(layer.coverage(stack.canvas), colour, layer.opacity)
            yield Output(name, encode_png(_clear([ink], stack), form, stack.dpi, words(stack)))


def _clear(inks: Iterable[Ink], stack: Stack) -> Bands:
    """Inks over nothing, with one kind of nothing."""
    picture = flatten(inks, stack.canvas)
    clear = (picture.values >> 24) == 0
    if not clear.any():
        return picture
    return picture.with_values(np.where(clear, 0, picture.values).astype(np.uint32))


def plain_name(name: str) -> str:
    """A layer's name as every file system takes it."""
    plain = re.sub(r'[\x00-\x1f<>:"/\\|?*]+', "-", name).strip(" .") or "layer"
    return plain.encode()[:100].decode(errors="ignore")
