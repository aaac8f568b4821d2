"""A canvas on sheets of A4 and letter paper, measured in what poppler draws of them."""

import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from support.pdf_pages import (
    MM,
    WHITE,
    bounds,
    box_of,
    filled,
    is_black,
    is_blue,
    middles,
    opened,
    pdf,
    stack_of,
    words,
)
from support.vector_pages import PAGES, by_poppler, page_stack

from guidekit.layers.model import Layer
from guidekit.plane.box import Box
from guidekit.raster.shapes import Rule
from guidekit.writers import Writer
from guidekit.writers.pdf import PdfA4Writer, PdfLetterWriter

A4, LETTER = (210, 297), (215.9, 279.4)  # mm: ISO 216; 8.5 x 11 in


def inches_of_blue(picture: np.ndarray, dpi: int) -> tuple[float, float]:
    """Width and height of the box round all that is blue."""
    left, top, right, bottom = bounds(is_blue(picture))
    return (right - left) / dpi, (bottom - top) / dpi


@pytest.mark.parametrize(
    ("writer", "paper", "size", "columns", "rows"),
    [
        (PdfA4Writer, A4, (4125, 6300), 1, 1),  # 6.875 x 10.5 in fit on A4
        (PdfA4Writer, A4, (8100, 6300), 2, 1),
        (PdfLetterWriter, LETTER, (8100, 6300), 2, 1),
        (PdfLetterWriter, LETTER, (6600, 10200), 2, 2),  # 11 x 17 in
        (PdfA4Writer, A4, (3000, 24000), 1, 4),
    ],
)
def test_sheets_cover_the_canvas(
    writer: Callable[[], Writer],
    paper: tuple[float, float],
    size: tuple[int, int],
    columns: int,
    rows: int,
    tmp_path: Path,
) -> None:
    """All sheets together show the whole canvas: their parts less 10 mm for each overlap are it.

    The paper is that of the standard, lying or upright, and its outer 5 mm stay white.
    """
    dpi, data = 200, pdf(filled(size), writer)
    with opened(data, tmp_path) as file:
        for sheet in file.pages:
            wide, high = box_of(sheet, "/MediaBox")[2:]
            assert sorted([wide, high]) == pytest.approx([side * MM for side in paper], abs=1e-4)
        assert len(file.pages) == columns * rows
    widths, heights = [], []
    for number in range(1, columns * rows + 1):
        picture = by_poppler(data, dpi, tmp_path, number)
        left, top, right, bottom = bounds((picture != WHITE).any(axis=2))
        outer = min(left, top, picture.shape[1] - right, picture.shape[0] - bottom)
        assert outer + 1 >= 5 / 25.4 * dpi
        width, height = inches_of_blue(picture, dpi)
        widths += [width] if number <= columns else []
        heights += [height] if number % columns == 1 % columns else []
    across = sum(widths) - (columns - 1) * 10 / 25.4
    down = sum(heights) - (rows - 1) * 10 / 25.4
    assert across == pytest.approx(size[0] / 600, abs=2 * columns / dpi)  # a pixel for each edge
    assert down == pytest.approx(size[1] / 600, abs=2 * rows / dpi)


def crosses(picture: np.ndarray, dpi: int) -> list[tuple[int, int]]:
    """The centres of registration marks: where a blue line of 6 mm crosses another."""
    blue, arm = is_blue(picture), int(2.5 / 25.4 * dpi)
    found: list[tuple[int, int]] = []
    ys, xs = np.nonzero(blue)
    for x, y in zip(xs.tolist(), ys.tolist(), strict=True):
        across, down = blue[y, max(x - arm, 0) : x + arm], blue[max(y - arm, 0) : y + arm, x]
        near = any(abs(x - a) < arm and abs(y - b) < arm for a, b in found)
        if not near and across.mean() > 0.9 and down.mean() > 0.9:
            found.append((x, y))
    return found


def test_registration_marks(tmp_path: Path) -> None:
    """Laid on their twins, the marks of two sheets put the same place of the canvas together."""
    # an upright line at 3.4 in, in the overlap of both sheets, which the marks must not move
    middle = Rule(Box(4000, 0, 4012, 6300))
    data = pdf(stack_of(Layer("line", (middle,), opacity=102), size=(8100, 6300)), PdfA4Writer)
    dpi = 200
    sheets = [by_poppler(data, dpi, tmp_path, number) for number in (1, 2)]
    marks = [crosses(picture, dpi) for picture in sheets]
    assert len(marks[0]) == len(marks[1]) == 2
    for (x0, y0), (x1, y1) in zip(*marks, strict=True):
        assert abs(y0 - y1) <= 1
        lines = [middles((sheet != WHITE).any(axis=2)[700])[-1 if i == 0 else 0]
                 for i, sheet in enumerate(sheets)]  # fmt: skip
        assert lines[0] - x0 == pytest.approx(lines[1] - x1, abs=1)
    assert marks[0][1][1] - marks[0][0][1] == pytest.approx(6300 / 600 * dpi / 2, abs=1)


@pytest.mark.parametrize(
    ("size", "beside"),
    [((4125, 6300), True), ((3000, 4000), False)],  # 10.5 in leave no room on 11 but at the side
)
def test_ruler_where_there_is_room(size: tuple[int, int], beside: bool, tmp_path: Path) -> None:
    """On a sheet of paper the ruler lies below the canvas, or stands beside it, and clear of it."""
    dpi = 200
    picture = by_poppler(pdf(filled(size), PdfLetterWriter), dpi, tmp_path)
    px = dpi / 25.4
    if beside:
        picture = np.rot90(picture)  # the lower edge is the one at the left
    strip = picture[-int(13 * px) :]  # 5 mm that stay white, 8 for ruler and words
    base = is_black(strip).sum(axis=1).max()
    assert base >= 101.6 * px - 2
    assert (strip.max(axis=2) == strip.min(axis=2)).all()


def test_sheets_are_numbered(tmp_path: Path) -> None:
    """Each of several sheets says which it is; one alone does not."""
    told = words(pdf(filled((6600, 10200)), PdfLetterWriter), tmp_path)
    assert re.findall(r"row \d of \d, column \d of \d", told) == [
        f"row {row} of 2, column {column} of 2" for row in (1, 2) for column in (1, 2)
    ]
    assert "row" not in words(pdf(filled((4125, 6300)), PdfA4Writer), tmp_path)


def test_boxes_on_common_paper(tmp_path: Path) -> None:
    """A page that fits on one sheet keeps its boxes there; a part of one has none."""
    one, two = page_stack(PAGES["plain"]), page_stack(PAGES["insets"])
    with opened(pdf(one, PdfA4Writer), tmp_path) as file:
        inked, cut = (box_of(file.pages[0], name) for name in ("/BleedBox", "/TrimBox"))
    assert [c - i for c, i in zip(cut, inked, strict=True)] == pytest.approx(
        [9, 9, -9, -9], abs=1e-4
    )
    with opened(pdf(two, PdfA4Writer), tmp_path) as file:
        assert len(file.pages) == 2
        assert not any("/TrimBox" in sheet or "/BleedBox" in sheet for sheet in file.pages)
