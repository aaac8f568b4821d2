"""What is printed of the layers, and how: by pikepdf, and as poppler draws it."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from support.fonts import collection, font_file
from support.long import shortened
from support.pdf_pages import BLUE, WHITE, bounds, is_black, is_blue, opened, pdf, stack_of, words
from support.planes import plane
from support.programs import output
from support.reference import reference
from support.vector_pages import (
    PAGES,
    alone,
    by_poppler,
    drawn_layers,
    is_slanted,
    page_stack,
)

from guidekit.layers.model import Group, Layer
from guidekit.plane.box import Box
from guidekit.raster.font import FontFile
from guidekit.raster.shapes import Rule
from guidekit.raster.text import Text
from guidekit.writers import Writer
from guidekit.writers.pdf import PdfA4Writer, PdfLetterWriter, PdfWriter

QUARTER = 80  # of 255, with what poppler does to thin lines


@pytest.mark.parametrize(
    "writer", shortened([PdfWriter, PdfA4Writer, PdfLetterWriter], [PdfA4Writer])
)
@pytest.mark.parametrize("page", PAGES)
def test_vectors_only(writer: Callable[[], Writer], page: str, tmp_path: Path) -> None:
    """There is no image in a file, inline or not, and no transparency: fills and clips."""
    pikepdf = reference("pikepdf")
    file = opened(pdf(page_stack(PAGES[page]), writer), tmp_path)
    for thing in file.objects:
        if isinstance(thing, pikepdf.Stream):
            assert "/Subtype" not in thing or str(thing.Subtype) != "/Image"
    for sheet in file.pages:
        used = {str(operator) for _, operator in pikepdf.parse_content_stream(sheet)}
        lines = "q Q cm re m l c h f f* S W W* n w g G rg RG"
        assert used <= {*lines.split(), "BDC", "EMC"}


def test_hidden_layers_are_not_printed(tmp_path: Path) -> None:
    """Neither hidden layers nor those of a hidden group nor the backdrop leave a trace."""
    whole = (Rule(Box(0, 0, 4000, 6000)),)
    stack = replace(
        stack_of(),
        members=(
            Layer("hidden", whole, visible=False),
            Group("hidden too", (Layer("inside", whole),), visible=False),
            Layer("paper", whole, (1, 2, 3), backdrop=True),
        ),
    )
    picture = by_poppler(pdf(stack), 50, tmp_path)
    assert is_black(picture).any()  # the marks
    assert (picture.max(axis=2) == picture.min(axis=2)).all()  # and no colour


def test_tints(tmp_path: Path) -> None:
    """A layer of 40 % is a tint of 40 %; the stronger of two wins; the paper's colour hides."""

    def box(left: int, right: int) -> tuple[Rule, ...]:
        return (Rule(Box(left, 0, right, 1600)),)

    layers = (
        Layer("weak on top", box(0, 600), opacity=102),
        Layer("strong", box(400, 1000)),
        Layer("cover", box(800, 1200), (255, 255, 255)),
        Layer("below", box(1000, 1400)),
    )
    picture = by_poppler(pdf(stack_of(*layers, size=(1600, 1600))), 100, tmp_path)
    edge = 10 / 25.4 * 100  # marks of 5 mm, 3 mm off, and 2 mm more
    tint = (219, 241, 248)  # white less 40 % of white less the blue
    for x, wanted in (
        (100, tint),
        (300, tint),
        (500, BLUE),
        (900, BLUE),
        (1100, WHITE),
        (1300, BLUE),
    ):
        assert tuple(picture[100, int(edge + x / 6)]) == wanted, x


def test_masks(tmp_path: Path) -> None:
    """What is in a group with a mask is printed inside the mask only."""
    mask, whole = Box(600, 1200, 1800, 3000), Box(0, 0, 4000, 6000)
    inner = Group("inner", (Layer("all", (Rule(whole),)),), mask=(Rule(whole),))
    stack = replace(stack_of(), members=(Group("outer", (inner,), mask=(Rule(mask),)),))
    left, top, right, bottom = bounds(is_blue(by_poppler(pdf(stack), 150, tmp_path)))
    edge = 10 / 25.4 * 150
    wanted = [edge + side / 4 for side in mask.as_list()]
    assert [left, top, right, bottom] == pytest.approx(wanted, abs=1)


@pytest.mark.parametrize("name", shortened(PAGES, ["slanted", "insets"]))
def test_layers_by_poppler(name: str, tmp_path: Path) -> None:
    """Poppler paints what the raster files cover, but for a quarter of a pixel at an edge.

    ISO 32000-1 section 10.6.5: all that a shape touches is painted, here quarters of a pixel; so an
    edge that is off by a millionth of a point counts as the next quarter, in a corner two of them.
    """
    stack, edge = page_stack(PAGES[name], dpi=127), 35  # 7 mm: pixels of canvas and print agree
    inside = (slice(3, -3), slice(3, -3))  # clear of the ends of marks and ruler
    for layer in drawn_layers(stack):
        right, bottom = edge + stack.canvas.width, edge + stack.canvas.height
        picture = by_poppler(pdf(alone(stack, layer)), 127, tmp_path)[edge:bottom, edge:right]
        seen = (255.0 - picture[..., 0]) * 255 / (255 - BLUE[0])
        assert seen.any(), layer.name
        seen = seen[inside]
        cover = plane(layer.coverage(stack.canvas), stack.canvas).astype(int)[inside]
        off = np.abs(seen - cover)
        if any(map(is_slanted, layer.shapes)):  # lines may cross in a pixel
            assert (off > QUARTER).sum() <= 0.003 * (cover > 0).sum(), layer.name
            assert off.max() < 2 * QUARTER, layer.name
        else:
            assert off.max() < QUARTER, layer.name
            assert (seen[cover == 255] == 255).all(), layer.name


FONTS = {"TrueType": "glyf", "OpenType": "CFF"}


def test_no_font_is_needed(tmp_path: Path) -> None:
    """Letters of every script are outlines, so that no font has to be there or to be swapped."""
    text = Text("Élan — · 塩 Ж שלום", 300, 300, 100)
    data = pdf(stack_of(Layer("words", (text,))))
    assert text.text in words(data, tmp_path)
    (tmp_path / "words.pdf").write_bytes(data)
    assert output("pdffonts", tmp_path / "words.pdf").decode().splitlines()[2:] == []
    assert b"/BaseFont" not in data


@pytest.mark.parametrize("outlines", FONTS.values(), ids=FONTS)
def test_letters_of_a_font_file(outlines: str, tmp_path: Path) -> None:
    """Capitals of a font file are as high as asked, whatever its outlines; its path is not told."""
    path = font_file(tmp_path / "boxes.otf", "HЖ", outlines)
    data = pdf(stack_of(Layer("words", (Text("HЖ", 600, 900, 600, FontFile(str(path))),))))
    assert "HЖ" in words(data, tmp_path)
    assert str(tmp_path).encode() not in data
    edge = 10 / 25.4 * 300  # of the canvas on the sheet
    left, top, right, bottom = bounds(is_blue(by_poppler(data, 300, tmp_path)))
    assert [top, bottom] == pytest.approx([edge + 450, edge + 750], abs=1)
    step = 300 / 0.7  # a square is all of its letter's width, 1000 of 1000 units
    assert [left, right] == pytest.approx([edge + 300, edge + 600 + step], abs=1)


def test_letters_of_a_collection(tmp_path: Path) -> None:
    """The second font of a collection is drawn with, as poppler shows it."""
    path = collection(tmp_path / "two.ttc", ("H", "First", 350), ("H", "Second", 700))
    data = pdf(stack_of(Layer("words", (Text("H", 600, 900, 600, FontFile(str(path), 1)),))))
    left, top, right, bottom = bounds(is_blue(by_poppler(data, 300, tmp_path)))
    assert (right - left, bottom - top) == pytest.approx((300, 300), abs=1)


def test_letters_as_in_the_other_formats(tmp_path: Path) -> None:
    """Poppler draws a label where the raster formats have it, but for soft edges."""
    layer = Layer("words", (Text("Élan 塩 שלום", 30, 40, 90),))
    stack = stack_of(layer, size=(900, 300))
    inside = (slice(236, 536), slice(236, 1136))  # 10 mm at 600 dpi on every side
    seen = by_poppler(pdf(stack), 600, tmp_path)[inside][..., 0]
    cover = plane(layer.coverage(stack.canvas), stack.canvas).astype(int)
    seen = (255.0 - seen) * 255 / (255 - BLUE[0])
    assert (np.abs(seen - cover) > 2 * QUARTER).sum() < 0.01 * (cover > 0).sum()
