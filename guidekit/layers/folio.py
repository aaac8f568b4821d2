"""Printed page numbers."""

from __future__ import annotations

from guidekit.geometry.folio import Folio
from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Layer
from guidekit.layers.palette import from_hex, ink_on
from guidekit.raster.font import FontFile
from guidekit.raster.text import Text, text_width


def folio_layer(page: PagePlan) -> Layer:
    """The numbers of the pages on a canvas; they print, as panel borders do."""
    furniture = page.book.furniture
    font = furniture.folio_font or furniture.font
    shapes = tuple(_digits(folio, font) for folio in page.folios)
    return Layer("Folio", shapes, ink_on(from_hex(furniture.paper)), label="grey")


def _digits(folio: Folio, font: FontFile | None) -> Text:
    width = text_width(folio.words, folio.height, font)
    left = {"left": 0, "centre": width // 2, "right": width}[folio.align]
    return Text(folio.words, folio.x - left, folio.top, folio.height, font)
