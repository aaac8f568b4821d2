"""The issue on sheets, as one picture or as a document to print."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO

from guidekit.issue import LoadedIssue
from guidekit.layers.model import Stack, visible_inks
from guidekit.overview.openings import Opening
from guidekit.overview.papers import SCREEN, Paper
from guidekit.overview.sheet import sheets, with_lines
from guidekit.overview.sheet_layers import drawn, thumbnails
from guidekit.overview.words import about, title_of
from guidekit.plane.box import Box
from guidekit.raster.blend import flatten
from guidekit.writers.png.encode import encode_small_png


def png_of(file: LoadedIssue, openings: Sequence[Opening], cautions: Sequence[str] = ()) -> bytes:
    """One picture of all pages."""
    ((stack, pictures),) = drawn_sheets(file, openings, SCREEN, cautions)
    flat = flatten(visible_inks(stack), stack.canvas, stack.paper)
    data = b"".join(encode_small_png(flat, stack.dpi))
    return _with_pictures(data, pictures, stack.dpi) if pictures else data


def _with_pictures(png: bytes, pictures: Sequence[tuple[Box, bytes]], dpi: int) -> bytes:
    from PIL import Image

    whole = Image.open(BytesIO(png)).convert("RGB")
    for box, jpeg in pictures:
        small = Image.open(BytesIO(jpeg)).resize(box.size, Image.Resampling.LANCZOS)
        whole.paste(small, (box.left, box.top))
    file = BytesIO()
    whole.save(file, "PNG", dpi=(dpi, dpi))
    return file.getvalue()


def pdf_of(
    file: LoadedIssue, openings: Sequence[Opening], paper: Paper, cautions: Sequence[str] = ()
) -> bytes:
    """As many sheets of paper as it takes."""
    from guidekit.writers.pdf.colours import StackOnSheet, colour_document, sheet_as_large

    laid = (
        (sheet_as_large(stack), [StackOnSheet(stack, pictures=pictures)])
        for stack, pictures in drawn_sheets(file, openings, paper, cautions)
    )
    return colour_document(laid, title_of(file))


def drawn_sheets(
    file: LoadedIssue, openings: Sequence[Opening], paper: Paper, cautions: Sequence[str] = ()
) -> list[tuple[Stack, list[tuple[Box, bytes]]]]:
    """Every sheet with the pictures of what is drawn; the title is on the first, cautions last."""
    rtl = file.direction == "rtl"
    said = [f"Caution: {caution}" for caution in cautions]
    found = with_lines(sheets(openings, paper, rtl), said, paper)
    title = [title_of(file), *about(file, openings)]
    return [
        (drawn(sheet, title if not number else (), paper, file.file_name), thumbnails(sheet))
        for number, sheet in enumerate(found)
    ]
