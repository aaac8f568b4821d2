"""Every shape as an element of SVG. Colour is inherited from the group it stands in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidekit.plane.box import Box
from guidekit.plane.outline import points_of
from guidekit.raster.face import Contour
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Shape, Solid, Stroke
from guidekit.raster.text import Text, contours
from guidekit.writers.paths import (
    Ring,
    even_odd_rings,
    number,
    rings_of,
)
from guidekit.writers.svg.xml import Ids, element, lines

WHITE, BLACK = "#ffffff", "#000000"
DRAWN_TO = {1: "L", 3: "C"}  # a line to one point, a Bézier curve by three


class Elements:
    """Shapes of one canvas as elements; `definitions` are the clip paths and masks they need."""

    def __init__(self, canvas: Box, ids: Ids):
        self.canvas, self._ids = canvas, ids
        self._made: dict[tuple[str, str], str] = {}  # what is in a definition → its element's id
        self.definitions: list[str] = []

    def of(self, shapes: Iterable[Shape], colour: str) -> Iterator[str]:
        """An element for each shape, to stand in a group with that fill."""
        for shape in shapes:
            match shape:
                case Rule(box) if box.is_empty:
                    continue
                case Rule(box) if not shape.dash:
                    yield rectangle(box)
                case Rule():
                    yield path(rings_of([shape]))
                case Polygon():
                    yield polygon(shape)
                case Stroke():
                    yield line(shape, colour)
                case Text():
                    yield letters(shape)
                case Solid():
                    yield path(shape.rings)
                case Area():
                    yield self._area(shape, colour)
                case Clip():
                    yield element(
                        "g", lines([*self.of(shape.shapes, colour)]), **self.limit(shape.within)
                    )

    def limit(self, shapes: tuple[Shape, ...]) -> dict[str, str]:
        """The attribute that shows of an element only what lies in shapes; none for no shapes."""
        if not shapes:
            return {}
        parts = [*_clip_parts(shapes)]
        if None not in parts:
            return {"clip_path": self._defined("clipPath", lines([*filter(None, parts)]))}
        inside = element("g", lines([*self.of(shapes, WHITE)]), fill=WHITE)
        return {"mask": self._defined("mask", inside)}

    def _area(self, area: Area, colour: str) -> str:
        if rings := even_odd_rings(area):
            return path(rings, fill_rule="evenodd")
        holes = element("g", lines([*self.of(area.holes, BLACK)]), fill=BLACK)
        mask = self._defined("mask", lines([rectangle(self.canvas, fill=WHITE), holes]))
        return element("g", lines([*self.of(area.shapes, colour)]), mask=mask)

    def _defined(self, kind: str, content: str) -> str:
        """The reference to a definition, which is made once however often it is used."""
        key = (kind, content)
        if key not in self._made:
            self._made[key] = name = self._ids.new(kind)
            place = (
                {} if kind == "clipPath" else {"maskUnits": "userSpaceOnUse"} | _edges(self.canvas)
            )
            self.definitions.append(element(kind, content, id=name, **place))
        return f"url(#{self._made[key]})"


def rectangle(box: Box, **attributes: str) -> str:
    """A filled box."""
    return element("rect", **_edges(box), **attributes)


def path(rings: Iterable[Ring], **attributes: str) -> str:
    """Rings as one path: lines to absolute places, each ring closed."""
    return element("path", d="".join(map(_ring, rings)), **attributes)


def polygon(shape: Polygon) -> str:
    """A filled polygon."""
    return element("polygon", points=" ".join(f"{number(x)},{number(y)}" for x, y in shape.points))


def line(stroke: Stroke, colour: str) -> str:
    """A straight line with the butt ends that SVG gives a line unless told otherwise."""
    if stroke.dash:
        return path(rings_of([stroke]))
    (x1, y1), (x2, y2) = stroke.start, stroke.end
    places = {"x1": x1, "y1": y1, "x2": x2, "y2": y2, "stroke_width": stroke.weight}
    return element("line", **{key: number(at) for key, at in places.items()}, stroke=colour)


def letters(text: Text) -> str:
    """A line of text as the outlines of its letters, which need no font where it is read."""
    lines = contours(text.text, text.height, text.font)
    return element(
        "path",
        d="".join(map(_contour, lines)),
        transform=f"translate({text.x} {text.y})",
        role="img",  # WAI-ARIA 1.2, with the words for those who cannot see them
        aria_label=text.text,
    )


def _clip_parts(shapes: Iterable[Shape]) -> Iterator[str | None]:
    """What a clip path is made of; None for a shape that it cannot hold.

    Section 14.3.5: only the fill of an element counts, so a line has to be a polygon.
    """
    for shape in shapes:
        match shape:
            case Rule(box) if box.is_empty:
                continue
            case Rule(box) if not shape.dash:
                yield rectangle(box)
            case Rule() | Stroke() | Polygon():
                yield path(rings_of([shape]))
            case Solid():
                yield path(shape.rings)
            case Area() if rings := even_odd_rings(shape):
                yield path(rings, clip_rule="evenodd")
            case _:
                yield None


def _edges(box: Box) -> dict[str, int]:
    return {"x": box.left, "y": box.top, "width": box.width, "height": box.height}


def _ring(ring: Ring) -> str:
    if isinstance(ring, Box):
        return f"M{ring.left} {ring.top}H{ring.right}V{ring.bottom}H{ring.left}Z"
    return f"M{'L'.join(f'{number(x)} {number(y)}' for x, y in points_of(ring))}Z"


def _contour(contour: Contour) -> str:
    """Section 8.3: to the start, then straight lines and cubic curves."""
    start, parts = contour
    drawn = (f"{DRAWN_TO[len(part)]}{' '.join(map(_point, part))}" for part in parts)
    return f"M{_point(start)}{''.join(drawn)}Z"


def _point(point: tuple[float, float]) -> str:
    return " ".join(number(at, 2) for at in point)
