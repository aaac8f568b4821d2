"""PDF files to test, and how they are read and measured.

Coordinates: points are those of PDF, from the lower left; pixels those of a picture, from the top.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from guidekit.layers.model import Layer, Stack
from guidekit.plane.box import Box
from guidekit.raster.shapes import Rule
from guidekit.writers import Writer
from guidekit.writers.pdf import PdfWriter
from support.reference import reference
from support.vector_pages import written

WHITE = (255, 255, 255)
BLUE = (164, 221, 237)  # #A4DDED: non-photo blue in three public lists of colour names
MM = 72 / 25.4  # points


def pdf(stack: Stack, writer: Callable[[], Writer] = PdfWriter) -> bytes:
    """The file."""
    return written(writer(), stack)


def opened(data: bytes, folder: Path) -> Any:
    """The file as pikepdf reads it."""
    path = folder / "read.pdf"
    path.write_bytes(data)
    return reference("pikepdf").open(path)


def box_of(page: Any, name: str) -> list[float]:
    """A box of a page: left, bottom, right, top in points."""
    return [float(edge) for edge in page[name]]


def stack_of(
    *layers: Layer, size: tuple[int, int] = (4000, 6000), dpi: int = 600, **info: object
) -> Stack:
    """A canvas with these layers; `info` are boxes on it."""
    canvas = Box(0, 0, *size)
    return Stack("test", canvas, dpi, False, 8, (255, 255, 255), layers, info={"page": info})


def filled(size: tuple[int, int] = (4000, 6000), **more: Any) -> Stack:
    """A canvas that is blue all over."""
    return stack_of(Layer("all", (Rule(Box(0, 0, *size)),)), size=size, **more)


def is_blue(picture: np.ndarray) -> np.ndarray:
    """Which pixels have the blue and nothing else."""
    blue: np.ndarray = (picture == BLUE).all(axis=2)
    return blue


def is_black(picture: np.ndarray) -> np.ndarray:
    """Which pixels are dark grey or black: nothing of a page but marks, ruler and words."""
    dark: np.ndarray = picture.max(axis=2) < 128
    return dark


def bounds(where: np.ndarray) -> tuple[int, int, int, int]:
    """Left, top, right, bottom of the box round all that is true."""
    rows, columns = np.flatnonzero(where.any(axis=1)), np.flatnonzero(where.any(axis=0))
    return int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1


def middles(line: np.ndarray) -> list[float]:
    """The middles of the runs of true along a row of pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(int), [0]])))
    return [(a + b) / 2 for a, b in zip(edges[::2], edges[1::2], strict=True)]


def words(data: bytes, folder: Path) -> str:
    """The replacement texts of all pages (ISO 32000-1 section 14.9.4), in one line."""
    pikepdf = reference("pikepdf")
    told = [
        str(operands[1]["/ActualText"])
        for page in opened(data, folder).pages
        for operands, operator in pikepdf.parse_content_stream(page)
        if str(operator) == "BDC"
    ]
    return " ".join(told)
