"""The layers of an OpenRaster file, looked into as far as they must be."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO
from xml.etree import ElementTree as ET

from guidekit.drawn.composing.runs import ROWS as MANY_ROWS
from guidekit.drawn.composing.runs import DistinctRows, bands_of
from guidekit.drawn.info import NO_XML
from guidekit.drawn.ora.archive import Member, members_of
from guidekit.drawn.ora.png_rows import head_of, rgba_rows
from guidekit.drawn.ours.layer_tree import LayerNode
from guidekit.drawn.ours.wants import Want
from guidekit.drawn.spans.source import Source
from guidekit.drawn.unfit import UnfitError, broken
from guidekit.layers.prints import Print, print_of
from guidekit.plane.box import Box
from guidekit.store.archives import UNREADABLE, archive_in
from guidekit.store.picture import NO_PICTURE
from guidekit.writers.pixels.grey import stored_colour

STACK = "stack.xml"
LARGEST_STACK = 10_000_000  # bytes
MOST_PIXELS = 400_000_000  # of a layer; a spread at 1,200 dpi has a half of that
LONGEST_EDGE = 300_000  # pixels, as of a large PSD
DEEPEST = 100  # groups in each other
COLOUR = 0xFFFFFF  # of the four bytes of a pixel, the lowest first, those that are not alpha


class OraDrawing:
    """An open file; raises `UnfitError` for what cannot be worked on."""

    def __init__(self, source: Source):
        self.source = source
        self.archive: dict[str, Member] = members_of(source)
        if STACK not in self.archive or "mimetype" not in self.archive:
            raise UnfitError("this is no OpenRaster file, whatever its name says")
        if self.archive[STACK].size > LARGEST_STACK:
            raise broken("its list of layers is larger than any")
        self.zip = archive_in(source.file)
        self.spaces: list[tuple[str, str]] = []
        with self.opened(STACK) as file:
            self.image = self._document(file.read())
        root = self.image.find("stack")
        if root is None:
            raise broken("it has no layers")
        self.root = root
        self.elements: list[ET.Element] = []
        self.members = tuple(self._nodes(root, 0))
        self._looks: dict[int, tuple[Print, tuple[int, ...] | None] | None] = {}

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        return _whole(self.image.get("w")), _whole(self.image.get("h"))

    @property
    def dpi(self) -> float | None:
        """Pixels per inch; None if the file does not say."""
        return _whole(self.image.get("xres")) or None

    @contextmanager
    def opened(self, name: str) -> Iterator[IO[bytes]]:
        """A file inside, to be read from its beginning."""
        try:
            with self.zip.open(name) as file:
                yield file
        except UNREADABLE:
            raise broken(f"{name} inside cannot be read") from None

    def rows(
        self, node: LayerNode, first: int = MANY_ROWS, many: int = MANY_ROWS
    ) -> Iterator[DistinctRows]:
        """Red, green, blue and alpha of a layer from the top down, as `png_rows.rgba_rows`."""
        with self._layer(self.elements[node.key]) as file:
            yield from rgba_rows(file, first, many)

    @contextmanager
    def _layer(self, element: ET.Element) -> Iterator[IO[bytes]]:
        """The PNG of a layer; what is wrong with it is told with its name."""
        try:
            with self.zip.open(element.get("src", "")) as file:
                yield file
        except NO_PICTURE:
            raise broken(f"the layer {element.get('name', '')} cannot be read") from None

    def look(self, node: LayerNode, wanted: Want) -> bool:
        """True if a layer has the pixels and the colour that are wanted."""
        if not wanted.colour or not node.box.holds(wanted.print.box):
            return False
        found = self._seen(node)
        colours = [stored_colour(wanted.colour, grey) for grey in (False, True)]
        return found is not None and found[0] == wanted.print and found[1] in colours

    def is_blank(self, node: LayerNode) -> bool:
        """True if nothing is on a layer."""
        found = self._seen(node)
        return found is not None and found[0].box.is_empty

    def has_mask(self, node: LayerNode, wanted: Want) -> bool:
        """The format has no masks."""
        return False

    def _seen(self, node: LayerNode) -> tuple[Print, tuple[int, ...] | None] | None:
        if node.key not in self._looks:
            self._looks[node.key] = self._looked_at(node)
        return self._looks[node.key]

    def _looked_at(self, node: LayerNode) -> tuple[Print, tuple[int, ...] | None] | None:
        colours: set[int] = set()

        def alphas() -> Iterator[DistinctRows]:
            for rows, heights in self.rows(node):
                alpha = rows[..., 3]
                covered = rows.view("<u4")[..., 0][alpha != 0] & COLOUR
                if covered.size:
                    colours.update((int(covered.min()), int(covered.max())))
                yield DistinctRows(alpha, heights)

        bands = bands_of(alphas(), node.box.left, node.box.top)
        if bands is None or len(colours) > 1:
            return None
        colour = tuple(colours.pop().to_bytes(3, "little")) if colours else None
        return print_of(bands), colour

    def _document(self, data: bytes) -> ET.Element:
        try:
            self.spaces = [pair for _, pair in ET.iterparse(io.BytesIO(data), ["start-ns"])]
            builder = ET.TreeBuilder(insert_comments=True, insert_pis=True)
            return ET.fromstring(data, ET.XMLParser(target=builder))
        except NO_XML:
            raise broken("its list of layers cannot be read") from None

    def _nodes(self, stack: ET.Element, depth: int) -> Iterator[LayerNode]:
        if depth > DEEPEST:
            raise broken("its groups are nested too deeply")
        for element in stack:
            if element.tag not in ("layer", "stack"):
                continue
            key = len(self.elements)
            self.elements.append(element)
            name, visible = element.get("name", ""), element.get("visibility") != "hidden"
            opacity = round(_number(element.get("opacity"), 1) * 255)
            if element.tag == "stack":
                inner = tuple(self._nodes(element, depth + 1))
                yield LayerNode(name, key, Box(0, 0, 0, 0), visible, opacity, inner)
                continue
            with self._layer(element) as file:
                width, height = head_of(file)[:2]
            if max(width, height) > LONGEST_EDGE or width * height > MOST_PIXELS:
                raise broken(f"the layer {name} is larger than any")
            left, top = (int(_number(element.get(axis), 0)) for axis in "xy")
            box = Box(left, top, left + width, top + height)
            yield LayerNode(name, key, box, visible, opacity)


def _whole(text: str | None) -> int:
    return int(_number(text, 0))


def _number(text: str | None, otherwise: float) -> float:
    try:
        found = float(text) if text else otherwise
    except ValueError:
        raise broken("a number in its list of layers is none") from None
    if not abs(found) < 1e9:
        raise broken("a number in its list of layers is beyond all measure")
    return found
