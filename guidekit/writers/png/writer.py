"""Which pictures are made of a stack."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import numpy as np

from guidekit.layers.model import Stack, all_layers, visible_inks
from guidekit.raster.blend import Colour, Ink, flatten
from guidekit.writers.png.encode import encode_png
from guidekit.writers.protocol import Limits, Output

LARGEST_PNG = 2**31 - 1  # section 7.1: four-byte integers stay below 2^31


class GuidesPngWriter:
    """One transparent picture of all that is visible above the backdrop."""

    name = "png"
    about = "one flat, transparent PNG of the guides and borders"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PNG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        yield Output(f"{stack.file_name}.png", _picture(stack, visible_inks(stack, backdrop=False)))


class FullColourPngWriter:
    """The same picture with red, green, blue and alpha for every pixel, for apps that want that."""

    name = "png-rgba"
    about = "the same PNG in full colour, for apps that cannot read indexed ones"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PNG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        picture = _picture(stack, visible_inks(stack, backdrop=False), full_colour=True)
        yield Output(f"{stack.file_name}-rgba.png", picture)


class PagePngWriter:
    """One opaque picture of the canvas as it is seen."""

    name = "png-page"
    about = "one flat PNG of the page as it is seen, paper and all"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PNG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        yield Output(
            f"{stack.file_name}-page.png", _picture(stack, visible_inks(stack), stack.paper)
        )


class LayersPngWriter:
    """Every layer as a transparent picture of the whole canvas, in a folder, uppermost first."""

    name = "png-layers"
    about = "a folder of transparent PNGs, one a layer"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PNG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file a layer; their names sort in the order of the stack."""
        layers = list(all_layers(stack.members))
        digits = max(2, len(str(len(layers))))
        for number, layer in enumerate(layers, 1):
            name = f"{stack.file_name}/{number:0{digits}} {plain_name(layer.name)}.png"
            ink = Ink(layer.coverage(stack.canvas), layer.colour, layer.opacity)
            yield Output(name, _picture(stack, [ink]))


def _picture(
    stack: Stack, inks: Iterable[Ink], paper: Colour | None = None, full_colour: bool = False
) -> list[bytes]:
    picture = flatten(inks, stack.canvas, paper)
    clear = (picture.values >> 24) == 0
    if clear.any():  # one kind of nothing
        picture = picture.with_values(np.where(clear, 0, picture.values).astype(np.uint32))
    return encode_png(picture, stack.dpi, stack.info, full_colour)


def plain_name(name: str) -> str:
    """A layer's name as every file system takes it."""
    plain = re.sub(r'[\x00-\x1f<>:"/\\|?*]+', "-", name).strip(" .") or "layer"
    return plain.encode()[:100].decode(errors="ignore")
