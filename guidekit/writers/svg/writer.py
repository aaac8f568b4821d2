"""The file put together: size, description, definitions, then groups and layers, lowest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from guidekit.layers.model import Blend, Group, Layer, Stack
from guidekit.raster.blend import Colour
from guidekit.units import INCH_IN_MM, decimal
from guidekit.writers.description import as_json
from guidekit.writers.paths import number
from guidekit.writers.protocol import Limits, Output
from guidekit.writers.svg.elements import Elements
from guidekit.writers.svg.xml import Ids, element, lines, words

LARGEST_SVG = 2**24  # section 4.3: single precision, whole numbers exact up to here


class SvgWriter:
    """One drawing of the canvas in real units, a group for each group and layer."""

    name = "svg"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_SVG)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        yield Output(f"{stack.file_name}.svg", [document(stack).encode()])


def document(stack: Stack) -> str:
    """The whole file as text."""
    canvas, ids = stack.canvas, Ids()
    shapes = Elements(canvas, ids)
    drawn = _members(stack.members, shapes, ids)
    parts = [
        element("title", words(stack.title or stack.file_name)),
        *([element("desc", words(stack.about))] if stack.about else []),
        element("metadata", words(as_json(stack.info))),
        element("defs", lines(shapes.definitions)),
        *drawn,
    ]
    svg = element(
        "svg",
        lines(parts),
        xmlns="http://www.w3.org/2000/svg",
        version="1.1",
        width=millimetres(canvas.width, stack.dpi),
        height=millimetres(canvas.height, stack.dpi),
        viewBox=f"{canvas.left} {canvas.top} {canvas.width} {canvas.height}",
    )
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg}\n'


def millimetres(pixels: int, dpi: int) -> str:
    """A length with its unit, exact to a millionth of a millimetre."""
    return f"{decimal(pixels * INCH_IN_MM / Fraction(dpi), 6)}mm"


def _members(members: Iterable[Layer | Group], shapes: Elements, ids: Ids) -> list[str]:
    """Section 3.3: what comes later lies on top, so the uppermost comes last."""
    return [
        _group(member, shapes, ids) if isinstance(member, Group) else _layer(member, shapes, ids)
        for member in [*members][::-1]
    ]


def _group(group: Group, shapes: Elements, ids: Ids) -> str:
    """What multiplies in a group with a mask does so within the group only, as CSS has it."""
    return element(
        "g",
        lines(_members(group.members, shapes, ids)),
        id=ids.new(group.name),
        aria_label=group.name,
        **_look(group.visible),
        **shapes.limit(group.mask),
    )


def _layer(layer: Layer, shapes: Elements, ids: Ids) -> str:
    colour = as_hex(layer.colour)
    return element(
        "g",
        lines([*shapes.of(layer.shapes, colour)]),
        id=ids.new(layer.name),
        aria_label=layer.name,
        fill=colour,
        **_look(layer.visible, layer.opacity, layer.blend),
    )


def _look(visible: bool, opacity: int = 255, blend: Blend = "normal") -> dict[str, str]:
    """Attributes for what is hidden, half seen or blended.

    There are renderers that know no ``display``, nor ``visibility``. For them what is hidden has
    an opacity of 0 as an attribute, and for all others its real one in ``style``, which comes
    before attributes (section 6.4): switched on in a drawing app, the layer is there.
    """
    seen = number(opacity / 255)
    style = [f"mix-blend-mode:{blend}"] if blend != "normal" else []
    look = {}
    if not visible:
        look = {"display": "none", "opacity": "0"}
        style.insert(0, f"opacity:{seen}")
    elif opacity < 255:
        look = {"opacity": seen}
    return look | ({"style": ";".join(style)} if style else {})


def as_hex(colour: Colour) -> str:
    """(255, 204, 0) → ``#ffcc00``."""
    return "#" + bytes(colour).hex()
