"""Image resources: resolution, ruler guides, profile, selected layer, metadata.

The number of each is in "Image Resource IDs" of the specification.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from html import escape
from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from psd_tools.constants import Resource
from psd_tools.psd.image_resources import ImageResource, ImageResources

from guidekit.layers.model import Stack
from guidekit.raster.bands import Bands
from guidekit.writers.description import description
from guidekit.writers.metadata import colour_profile, xml_text
from guidekit.writers.pixels.thumbnail import thumbnail
from guidekit.writers.psd.records import layer_id

LONGEST_THUMBNAIL = 160  # pixels
PICTURE_HEAD = struct.Struct(">IIIIIIHH")  # "Thumbnail resource format"
COMMENT_HEAD = 4  # bytes: the marker of a comment in a JPEG, and its length


def image_resources(stack: Stack, merged: Sequence[Bands], selected: int | None) -> ImageResources:
    """All resources of a stack; `selected` is the place of the record to draw on first."""
    blocks = {
        Resource.RESOLUTION_INFO: resolution(stack.dpi),
        Resource.VERSION_INFO: version_info(),
        Resource.THUMBNAIL_RESOURCE: small_picture(merged),
        Resource.XMP_METADATA: xmp(stack),
    }
    if any(stack.rulers):
        blocks[Resource.GRID_AND_GUIDES_INFO] = ruler_guides(*stack.rulers)
    if stack.profile:
        blocks[Resource.ICC_PROFILE] = colour_profile(stack.grey)
    if selected is not None:
        blocks[Resource.LAYER_STATE_INFO] = active_record(selected)
        blocks[Resource.LAYER_SELECTION_IDS] = selected_layer(selected)
    resources = ImageResources()
    for key, data in sorted(blocks.items(), key=lambda block: block[0].value):
        resources[key] = ImageResource(key=key.value, data=data)
    return resources


def resolution(dpi: int) -> bytes:
    """1005: 16.16 fixed pixels per inch, whatever the unit field says; shown in inches."""
    return struct.pack(">IHHIHH", dpi << 16, 1, 1, dpi << 16, 1, 1)


def ruler_guides(xs: tuple[int, ...], ys: tuple[int, ...]) -> bytes:
    """1032: version, grid (18 × 32, the default), then each guide in 1/32 px and its direction."""
    guides = [(x, 0) for x in xs] + [(y, 1) for y in ys]
    head = struct.pack(">IIII", 1, 576, 576, len(guides))
    return head + b"".join(struct.pack(">IB", at * 32, direction) for at, direction in guides)


def active_record(place: int) -> bytes:
    """1024: the record to draw on, ends of groups counted, from 0 for the lowest."""
    return struct.pack(">H", place)


def selected_layer(place: int) -> bytes:
    """1069: how many layers are selected, and the id of each. Readers go by this or by 1024."""
    return struct.pack(">HI", 1, layer_id(place))


def version_info() -> bytes:
    """1057: version 1, and that the merged image is really composed; names, file version 1."""

    def text(name: str) -> bytes:
        return struct.pack(">I", len(name)) + name.encode("utf-16-be")

    return struct.pack(">IB", 1, 1) + text("guidekit") + text("guidekit") + struct.pack(">I", 1)


def small_picture(merged: Sequence[Bands]) -> bytes:
    """1036: a JFIF picture of at most 160 pixels, which file browsers show."""
    return packed_picture(thumbnail(merged, LONGEST_THUMBNAIL))


def packed_picture(pixels: NDArray[np.uint8], room: int = 0) -> bytes:
    """The data of 1036 for red, green and blue, (height, width, 3).

    Format 1 (JPEG, RGB), width, height, bytes of a row padded to 4, of all rows, and as JPEG, bits
    of a pixel, planes. They are filled up to `room` bytes, if that is more, by a comment in the
    JPEG (ITU-T T.81, B.2.4.5).
    """
    height, width = pixels.shape[:2]
    jpeg = _jpeg(pixels)
    left = room - PICTURE_HEAD.size - len(jpeg) - COMMENT_HEAD
    if left > 0:
        jpeg = _jpeg(pixels, b" " * left)
    row = (width * 24 + 31) // 32 * 4
    return PICTURE_HEAD.pack(1, width, height, row, row * height, len(jpeg), 24, 1) + jpeg


def _jpeg(pixels: NDArray[np.uint8], comment: bytes = b"") -> bytes:
    file = BytesIO()
    file.name = "thumbnail.jpg"  # for an ending Pillow loads one format, for "JPEG" five
    Image.fromarray(pixels).save(file, quality=85, comment=comment)
    return file.getvalue()


def xmp(stack: Stack) -> bytes:
    """1060: an XMP packet (ISO 16684-1) with title and description as Dublin Core has them."""

    def property_of(name: str, text: str) -> str:
        words = escape(xml_text(text), quote=False)
        in_any_language = f'<rdf:Alt><rdf:li xml:lang="x-default">{words}</rdf:li></rdf:Alt>'
        return f"<dc:{name}>{in_any_language}</dc:{name}>"

    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">'
        f"{property_of('title', stack.title or stack.file_name)}"
        f"{property_of('description', description(stack, prints=True))}"
        '</rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end="w"?>'
    ).encode()
