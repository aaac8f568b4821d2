"""SVG files, read by ElementTree and drawn by librsvg, which shares no code with guidekit."""

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from support.catalogue import writer_called
from support.long import shortened
from support.planes import plane
from support.reference import reference
from support.vector_pages import (
    PAGES,
    alone,
    by_rsvg,
    drawn_layers,
    has_text,
    is_slanted,
    page_stack,
    written,
)

from guidekit.layers.model import Group, Layer, Stack, all_layers, visible_inks
from guidekit.plane.box import Box
from guidekit.plugins.stacks import sample
from guidekit.raster.blend import flatten
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Shape, Solid, Stroke
from guidekit.raster.text import Text
from guidekit.writers.svg import SvgWriter
from guidekit.writers.svg.xml import element

SVG = "{http://www.w3.org/2000/svg}"
#: Names that XML, CSS or a careless writer stumbles over, in several scripts.
NAMES = ("ペン入れ", "حدّ القص", "a <b> & \"c\" 'd'", "🖋", "2 two", "-", "", "Inks", "Inks", "²")
STEPS = 17  # of 255: the library below librsvg looks at 15 lines in every row of pixels
#: Where two lines cross in a pixel, their parts are added as a + b here and as a + b - ab there.
CROSSING = STEPS + 64


def svg(stack: Stack) -> bytes:
    """The file."""
    return written(SvgWriter(), stack)


def tree(stack: Stack) -> ElementTree.Element:
    """The file as ElementTree parses it."""
    return ElementTree.fromstring(svg(stack))


def groups(element: ElementTree.Element) -> list[ElementTree.Element]:
    """The groups with a name, directly below an element."""
    return [g for g in element.findall(f"{SVG}g") if "aria-label" in g.attrib]


def test_size_in_real_units() -> None:
    """Width and height are those of the paper: 6.875 x 10.5 in, an inch of 25.4 mm exactly."""
    root = tree(page_stack(PAGES["plain"]))
    assert (root.get("width"), root.get("height")) == ("174.625mm", "266.7mm")
    assert root.get("viewBox") == "0 0 4125 6300"  # pixels at 600 dpi


@pytest.mark.parametrize("dpi", [72, 254, 300, 350, 1200])
def test_size_at_any_resolution(dpi: int) -> None:
    """Pixels, resolution and millimetres agree to a thousandth of a pixel (1 in = 25.4 mm)."""
    root = tree(sample(dpi=dpi))
    width = Fraction(root.attrib["width"].removesuffix("mm"))
    assert abs(width * dpi / Fraction(254, 10) - 301) < Fraction(1, 1000)


Shown = list[Any]  # of name, visibility, and what is inside a group


def shape_of(members: Iterable[Layer | Group]) -> Shown:
    """Names and visibility of groups and layers, the uppermost first."""
    return [
        (m.name, m.visible, shape_of(m.members) if isinstance(m, Group) else None) for m in members
    ]


def shape_in(element: ElementTree.Element, nested: Shown) -> Shown:
    """The same as a file has it; SVG 1.1 section 3.3 paints the last element on top."""
    found = groups(element)[::-1]
    assert len(found) == len(nested)
    return [
        (
            g.get("aria-label"),
            g.get("display") != "none",
            None if inner is None else shape_in(g, inner),
        )
        for g, (_, _, inner) in zip(found, nested, strict=True)
    ]


@pytest.mark.parametrize("stack", [page_stack(PAGES["plain"]), sample()], ids=["page", "sample"])
def test_groups_and_layers(stack: Stack) -> None:
    """Every group and layer is a group of the file, in order, with its name and visibility."""
    wanted = shape_of(stack.members)
    assert shape_in(tree(stack), wanted) == wanted


def test_hidden_layers(tmp_path: Path) -> None:
    """What is hidden is seen by no renderer, by those without ``display`` either, until shown."""
    box = (Rule(Box(0, 0, 301, 203)),)
    plain = Layer("x", box, (213, 94, 0), opacity=153)
    for shown in (plain, replace(plain, blend="multiply"), Group("g", (plain,))):
        hidden = svg(sample(members=(replace(shown, visible=False),)))
        assert not by_rsvg(hidden, 301, 203, tmp_path)[..., 3].any()
        # what a renderer goes by that knows neither display nor style
        (group,) = groups(ElementTree.fromstring(hidden))
        assert (group.attrib.pop("display"), group.attrib["opacity"]) == ("none", "0")
        switched_on = hidden.replace(b' display="none"', b"")
        assert switched_on != hidden
        wanted = by_rsvg(svg(sample(members=(shown,))), 301, 203, tmp_path)
        assert wanted[..., 3].all()
        assert (by_rsvg(switched_on, 301, 203, tmp_path) == wanted).all()


def test_names_in_any_script() -> None:
    """Names come through as they are; identifiers are unique and names in the sense of XML."""
    root = tree(sample(members=tuple(map(Layer, NAMES))))
    assert [g.get("aria-label") for g in groups(root)] == [*NAMES][::-1]
    ids = [g.get("id") for g in groups(root)]
    assert len({*ids}) == len(NAMES)
    assert "ペン入れ" in ids
    etree = reference("lxml.etree")
    for name in ids:  # libxml2 takes names of the fifth edition, without a colon, for elements
        assert etree.fromstring(f"<{name}/>").tag == name


def test_what_xml_cannot_hold() -> None:
    """A control character, which XML 1.0 section 2.2 has no way to write, shows as U+FFFD."""
    root = tree(sample(members=(Layer("be\x07ll", (Text("\x0cx", 1, 1, 9),)),)))
    assert groups(root)[0].get("aria-label") == "be\ufffdll"
    assert next(root.iter(f"{SVG}path")).get("aria-label") == "\ufffdx"


def test_attributes_come_back_as_they_were() -> None:
    """Quotes, signs and white space in an attribute are read back as they were (expat)."""
    value = "\"one\" 'two' <three> & four\tfive\nsix\rseven"
    assert ElementTree.fromstring(element("a", name=value)).get("name") == value


def test_same_bytes() -> None:
    """The same stack gives the same bytes, and no date or path is among them."""
    stack = page_stack(PAGES["insets"])
    first = svg(stack)
    assert first == svg(replace(stack))
    assert not re.search(rb"20\d\d-|/home|/tmp", first)


def test_no_pixels() -> None:
    """Nothing in a file is a picture."""
    for page in PAGES.values():
        assert not tree(page_stack(page)).findall(f".//{SVG}image")


def kinds(*shapes: Shape) -> list[str]:
    """The elements that shapes become, and the attributes that are not coordinates."""
    (layer,) = groups(tree(sample(members=(Layer("x", shapes),))))
    return [element.tag.removeprefix(SVG) for element in layer.iter()][1:]


def test_kinds_of_elements() -> None:
    """Each shape is the element that a drawing program edits best."""
    box, hole = Rule(Box(0, 0, 90, 90)), Rule(Box(10, 10, 80, 80))
    slanted = Polygon(((0, 0), (99, 5), (50, 70)))
    assert kinds(box) == ["rect"]
    assert kinds(slanted) == ["polygon"]
    assert kinds(Solid((slanted.points, ((20, 10), (30, 20), (40, 10))))) == ["path"]
    assert kinds(Stroke((1, 1), (50, 70), 3.0)) == ["line"]
    assert kinds(Rule(Box(0, 0, 90, 3), (5, 4))) == ["path"]
    assert kinds(Area((box,), (hole,))) == ["path"]  # by the even-odd rule
    assert kinds(Area((hole,), (box, slanted))) == ["g", "rect"]  # by a mask
    assert kinds(Clip((box,), (slanted,))) == ["g", "rect"]


@pytest.mark.parametrize("name", shortened(PAGES, ["slanted", "insets"]))
def test_layers_by_librsvg(name: str, tmp_path: Path) -> None:
    """Librsvg covers what the raster files cover: boxes exactly, slanted edges to a few steps."""
    stack = page_stack(PAGES[name], dpi=60)
    width, height = stack.canvas.width, stack.canvas.height
    layers = drawn_layers(stack)
    assert len(layers) > 12
    for layer in layers:
        alpha = by_rsvg(svg(alone(stack, layer)), width, height, tmp_path)[..., 3]
        off = np.abs(alpha - plane(layer.coverage(stack.canvas), stack.canvas).astype(int))
        assert alpha.any(), layer.name
        if layer.name in ("Construction lines", "Diagonals", "Perspective"):
            assert off.max() <= CROSSING, layer.name
            assert (off > STEPS).sum() < 0.1 * (off > 0).sum(), layer.name
        else:
            slanted = any(map(is_slanted, layer.shapes))
            assert off.max() <= (STEPS if slanted else 0), layer.name


def test_whole_page_by_librsvg(tmp_path: Path) -> None:
    """Opacity, masks, hidden layers and multiply look as in the flat picture, to a few steps."""
    stack = sample(members=tuple(m for m in sample().members if not text_in(m)))
    flat = plane(flatten(visible_inks(stack), stack.canvas, stack.paper), stack.canvas).astype(int)
    flat = np.stack([flat >> shift & 255 for shift in (16, 8, 0, 24)], axis=2)
    seen = by_rsvg(svg(stack), stack.canvas.width, stack.canvas.height, tmp_path)
    off = np.abs(seen - flat).max(axis=2)
    assert off.max() <= STEPS


def text_in(member: Layer | Group) -> bool:
    """True if a group or layer has text in it."""
    return any(has_text(shape) for layer in all_layers((member,)) for shape in layer.shapes)


@pytest.mark.parametrize("words", ["HEH", "Élan 塩", "שלום", "طريق"])
def test_letters_by_librsvg(words: str, tmp_path: Path) -> None:
    """Letters need no font and stand where the raster formats have them, to the steps of both."""
    layer = Layer("x", (Text(words, 12, 50, 60),))
    stack = sample(members=(layer,))
    seen = by_rsvg(svg(stack), stack.canvas.width, stack.canvas.height, tmp_path)[..., 3]
    cover = plane(layer.coverage(stack.canvas), stack.canvas).astype(int)
    off = np.abs(seen - cover)
    assert seen.any()
    assert (off > STEPS + 32).sum() <= 0.005 * (cover > 0).sum()  # five greys; joined letters cross
    assert "<text" not in svg(stack).decode()


def test_spaces_by_librsvg(tmp_path: Path) -> None:
    """Several spaces between words are kept, as page labels have them."""
    ends = []
    for words in ("H H", "H     H"):
        drawn = svg(sample(members=(Layer("x", (Text(words, 5, 40, 40),)),)))
        columns = np.flatnonzero(by_rsvg(drawn, 301, 203, tmp_path)[..., 3].any(axis=0))
        ends.append(columns[-1])
    assert ends[1] > ends[0] + 40


def test_called_by_name() -> None:
    """The format is found by its name."""
    assert isinstance(writer_called("svg"), SvgWriter)
