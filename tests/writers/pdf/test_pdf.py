"""One page of PDF: boxes by pikepdf and poppler; marks, lines and ruler in what poppler draws."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from support.catalogue import writer_called
from support.pdf_pages import MM, box_of, filled, is_black, is_blue, middles, opened, pdf, words
from support.programs import output
from support.vector_pages import PAGES, by_poppler, page_stack

from guidekit.errors import InputError
from guidekit.layers.model import Stack
from guidekit.writers import Writer
from guidekit.writers.pdf import PdfA4Writer, PdfWriter

BARE = "[guides]\n" + "".join(
    f'{name} = "off"\n'
    for name in ("page_label", "panel_numbers", "safe_area", "trim", "bleed", "gutters")
)


def test_boxes_of_a_us_comic(tmp_path: Path) -> None:
    """Exactly 6.625 x 10.25 in with 1/8 in round it: 9 9 486 747 in 495 x 756 points."""
    file = opened(pdf(page_stack(PAGES["plain"])), tmp_path)
    page = file.pages[0]
    media, inked, cut = (box_of(page, f"/{name}Box") for name in ("Media", "Bleed", "Trim"))
    left, bottom, right, top = inked
    assert [right - left, top - bottom] == pytest.approx([495, 756], abs=1e-4)
    inside = [cut[0] - left, cut[1] - bottom, cut[2] - left, cut[3] - bottom]
    assert inside == pytest.approx([9, 9, 486, 747], abs=1e-4)
    assert media[:2] == [0, 0]  # and round that 5 mm of marks and 2 mm more
    assert [left, bottom, media[2] - right, media[3] - top] == pytest.approx([7 * MM] * 4, abs=1e-4)


def test_boxes_of_an_a4_page(tmp_path: Path) -> None:
    """A4 (ISO 216) with 3 mm all round and 10 mm from the cut to the paper's edge, to half a pixel.

    The values are 216 x 303 mm and so on in points; the canvas has whole pixels of 1/300 in.
    """
    file = opened(pdf(page_stack("tiers = [1]", preset="iso-a4")), tmp_path)
    for name, wanted in (
        ("Media", [0, 0, 651.9685, 898.5827]),
        ("Bleed", [19.8425, 19.8425, 632.1260, 878.7402]),
        ("Trim", [28.3465, 28.3465, 623.6220, 870.2362]),
    ):
        assert box_of(file.pages[0], f"/{name}Box") == pytest.approx(wanted, abs=1.01 * 72 / 300), (
            name
        )


def test_boxes_by_poppler(tmp_path: Path) -> None:
    """The program pdfinfo sees the same boxes; the crop box, which is not given, is the media."""
    (tmp_path / "a.pdf").write_bytes(pdf(page_stack(PAGES["plain"])))
    told = output("pdfinfo", "-box", tmp_path / "a.pdf").decode()
    rows = dict(re.findall(r"(\w+Box): +(.*)", told))
    numbers = {name: [float(n) for n in row.split()] for name, row in rows.items()}
    m = 7 * MM
    wide, high = 495 + 2 * m, 756 + 2 * m
    assert numbers["MediaBox"] == pytest.approx([0, 0, wide, high], abs=0.01)
    assert numbers["CropBox"] == numbers["MediaBox"]
    assert numbers["BleedBox"] == pytest.approx([m, m, wide - m, high - m], abs=0.01)
    assert numbers["TrimBox"] == pytest.approx([m + 9, m + 9, wide - m - 9, high - m - 9], abs=0.01)
    assert re.search(r"^Pages: +1$", told, re.MULTILINE)


def test_paper_no_larger_than_the_sheet(tmp_path: Path) -> None:
    """Where the canvas itself has room for the marks the paper is the canvas: 11 x 17 in."""
    file = opened(pdf(page_stack("tiers = [1]", preset="us-comic-art-board")), tmp_path)
    assert box_of(file.pages[0], "/MediaBox") == pytest.approx([0, 0, 11 * 72, 17 * 72], abs=1e-4)


class Printed(NamedTuple):
    """A sheet drawn at 600 dpi: where it is black, where blue; `px` for each mm."""

    black: np.ndarray
    blue: np.ndarray
    stack: Stack
    px: float = 600 / 25.4


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """A us-comic page with nothing but its borders on it."""
    stack = page_stack(PAGES["plain"], extra=BARE)
    picture = by_poppler(pdf(stack), 600, tmp_path_factory.mktemp("printed"))
    return Printed(is_black(picture), is_blue(picture), stack)


@pytest.mark.parametrize("turns", range(4))
def test_marks_where_they_must_be(printed: Printed, turns: int) -> None:
    """At each edge two marks are in line with the cut, 5 mm long, 3.175 mm off, to a pixel."""
    black = np.rot90(printed.black, turns)  # the edge in question is the uppermost
    px, cut = printed.px, 10.175 * printed.px  # the cut's distance from the paper's edge
    begin, end = 2 * px, 7 * px
    for row in (black[int(4.5 * px)], black[int(4.5 * px), ::-1]):
        assert middles(row[: int(12 * px)]) == pytest.approx([cut], abs=1)
    for x in (cut, black.shape[1] - cut):
        near = black[: int(9 * px), int(x) - 2 : int(x) + 3].any(axis=1)
        rows = np.flatnonzero(near)
        assert [rows[0], rows[-1] + 1] == pytest.approx([begin, end], abs=1)


def test_border_line(printed: Printed) -> None:
    """A panel's border is where the canvas has it, as heavy as there, in the blue and no other."""
    page, edge = printed.stack.info["page"], 7 * printed.px
    left, top, right, bottom = page["panels"][0]["box"]
    weight = page["border"]
    row = printed.blue[int(edge + (top + bottom) / 2), : int(edge + right) + 2]
    assert middles(row) == pytest.approx(
        [edge + left + weight / 2, edge + right - weight / 2], abs=1
    )
    assert abs(row.sum() - 2 * weight) <= 2
    column = printed.blue[:, int(edge + (left + right) / 2)]
    assert middles(column)[0] == pytest.approx(edge + top + weight / 2, abs=1)


def ticks(row: np.ndarray, length: float) -> list[float]:
    """The middles of what is dark along a row, up to `length` after the first and 5 pixels more."""
    found = middles(row)
    return [x for x in found if x - found[0] < length + 5]


def test_ruler(printed: Printed) -> None:
    """The ruler is 100 mm and 4 in long, a tick for every mm and every 1/8 in, to a pixel."""
    px = printed.px
    below = printed.black[-int(6.8 * px) :, int(11.5 * px) : -int(11.5 * px)]  # between the marks
    base = int(np.argmax(below.sum(axis=1)))  # the ruler's line has most ink
    millimetres = ticks(below[base - int(0.4 * px)], 100 * px)
    assert len(millimetres) == 101
    assert np.diff(millimetres) == pytest.approx([px] * 100, abs=1)
    assert millimetres[-1] - millimetres[0] == pytest.approx(100 * px, abs=1)
    eighths = ticks(below[base + int(0.4 * px)], 4 * 600)
    assert len(eighths) == 33
    assert eighths[-1] - eighths[0] == pytest.approx(4 * 600, abs=1)
    assert len(ticks(below[base - int(1.3 * px)], 100 * px)) == 11  # 0, 10, … 100 mm are longer
    assert len(ticks(below[base + int(1.3 * px)], 4 * 600)) == 5  # and 0, 1, … 4 in


def test_words_beside_the_ruler(tmp_path: Path) -> None:
    """Beside the ruler stand its lengths, the file's name and how to print it."""
    told = words(pdf(page_stack(PAGES["plain"])), tmp_path)
    for said in ("100 mm", "4 in", "tests-02-p001 · print at 100 %, no fitting"):
        assert said in told


def test_small_page_has_a_shorter_ruler(tmp_path: Path) -> None:
    """Below a page 2 in wide fit 30 mm and 1 in beside their labels, and the ruler says so."""
    assert words(pdf(filled((1200, 1800))), tmp_path).startswith("30 mm 1 in")


def test_readers_are_told_not_to_fit(tmp_path: Path) -> None:
    """The file asks for no scaling (ISO 32000-1 table 150)."""
    file = opened(pdf(filled()), tmp_path)
    assert str(file.Root.ViewerPreferences.PrintScaling) == "/None"


@pytest.mark.parametrize("writer", [PdfWriter, PdfA4Writer])
def test_same_bytes(writer: Callable[[], Writer]) -> None:
    """The same stack gives the same bytes, whose date is that of no clock."""
    stack = page_stack(PAGES["insets"])
    first = pdf(stack, writer)
    assert first == pdf(replace(stack), writer)
    assert set(re.findall(rb"D:(\d{8})", first)) <= {b"20000101"}


def test_too_large_for_a_page() -> None:
    """A page of more than 200 in (ISO 32000-1 annex C.2) is refused; sheets of paper take it."""
    tall = filled((100, 15_000), dpi=72)
    with pytest.raises(InputError) as caught:
        pdf(tall)
    assert str(caught.value) == (
        "formats: the sheet of test would be 209.1 in long, as pdf. Take a higher dpi, or the "
        "format pdf-a4 or pdf-letter: pdf has edges of at most 200 in."
    )
    assert pdf(tall, PdfA4Writer).count(b"/MediaBox") > 15


@pytest.mark.parametrize("name", ["pdf", "pdf-a4", "pdf-letter"])
def test_called_by_name(name: str) -> None:
    """The formats are found by their names, and name their files so that none hides another."""
    writer = writer_called(name)
    assert writer.name == name
    (made,) = writer.write(filled())
    assert made.name == f"test{name.removeprefix('pdf')}.pdf"
