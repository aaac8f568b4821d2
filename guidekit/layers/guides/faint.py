"""Guides that are hard to see on the paper they are drawn on."""

from __future__ import annotations

from collections.abc import Iterable

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.draw import guide_layers
from guidekit.layers.guides.kind import Guide
from guidekit.layers.model import all_layers
from guidekit.layers.palette import WHITE, contrast, from_hex, seen_on
from guidekit.registry import Registry

#: Guides are faint on purpose. Half of the contrast that W3C, Web Content Accessibility Guidelines
#: 2.2, section 1.4.11, asks of graphics is our limit, or what a tint has on white less a tenth.
LEAST_CONTRAST = 1.5


def faint_guides(pages: Iterable[PagePlan], guides: Registry[Guide]) -> dict[str, float]:
    """The layers of shown guides that stand out too little from the paper, and their contrast."""
    found: dict[str, float] = {}
    for page in {page.guides: page for page in pages}.values():
        paper = from_hex(page.book.furniture.paper)
        if contrast(paper, WHITE) < 1.2:  # paper as it is; nothing is lost on it
            continue
        for layer in all_layers(guide_layers(page, guides)):
            ratio = contrast(seen_on(paper, layer.colour, layer.opacity), paper)
            on_white = contrast(seen_on(WHITE, layer.colour, layer.opacity), WHITE)
            if layer.visible and ratio < min(LEAST_CONTRAST, 0.9 * on_white):
                found[layer.name] = ratio
    return found
