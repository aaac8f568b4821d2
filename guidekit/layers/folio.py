"""Printed page numbers."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.geometry.folio import Folio
from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Layer
from guidekit.layers.palette import from_hex, ink_on
from guidekit.plane.box import Box
from guidekit.raster.font import FontFile
from guidekit.raster.text import Text, letter_box, text_width


def folio_layer(page: PagePlan) -> Layer:
    """The numbers of the pages on a canvas; they print, as panel borders do."""
    ink = ink_on(from_hex(page.book.furniture.paper))
    return Layer("Folio", tuple(_digits_on(page)), ink, label="grey")


def folio_boxes(page: PagePlan) -> list[Box]:
    """Where they stand."""
    return [letter_box(text) for text in _digits_on(page)]


def _digits_on(page: PagePlan) -> Iterator[Text]:
    furniture = page.book.furniture
    return (_digits(folio, furniture.folio_font or furniture.font) for folio in page.folios)


def _digits(folio: Folio, font: FontFile | None) -> Text:
    width = text_width(folio.words, folio.height, font)
    left = {"left": 0, "centre": width // 2, "right": width}[folio.align]
    return Text(folio.words, folio.x - left, folio.top, folio.height, font)
