"""Which pictures are made of a stack."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.layers.model import Stack
from guidekit.raster.blend import flatten
from guidekit.writers.pixels.grey import stored_inks, stored_paper
from guidekit.writers.pixels.pixel_format import PixelFormat
from guidekit.writers.protocol import Limits, Output
from guidekit.writers.tiff.encode import encode_tiff

LARGEST_TIFF = 2**31 - 1  # section 2 has four bytes for an edge; many readers take them as signed


class GuidesTiffWriter:
    """One transparent picture of all that is visible above the backdrop."""

    name = "tiff"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_TIFF)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        picture = flatten(stored_inks(stack, backdrop=False), stack.canvas)
        form = PixelFormat(stack.grey, alpha=True, depth=stack.depth)
        yield Output(f"{stack.file_name}.tif", encode_tiff(picture, form, stack))


class PageTiffWriter:
    """One opaque picture of the canvas as it is seen."""

    name = "tiff-page"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_TIFF)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        picture = flatten(stored_inks(stack), stack.canvas, stored_paper(stack))
        form = PixelFormat(stack.grey, alpha=False, depth=stack.depth)
        yield Output(f"{stack.file_name}-page.tif", encode_tiff(picture, form, stack))
