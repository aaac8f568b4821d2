"""The rectangular layers of a canvas drawn a second time, from its boxes, by plain numpy slices.

Nothing here calls guidekit. What each layer shows is stated from the words that the guides are
named by: trim, bleed, safe area, gutters, panel borders.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, NamedTuple

import numpy as np

from support.books_under_test import Built, Case, Colour
from support.rounding import nearest

# M. Okabe and K. Ito, "Color Universal Design" (2008), the published values
BLACK = (0, 0, 0)
SKY_BLUE = (86, 180, 233)
BLUISH_GREEN = (0, 158, 115)
BLUE = (0, 114, 178)
VERMILLION = (213, 94, 0)
REDDISH_PURPLE = (204, 121, 167)

PAD = 16  # pixels round the canvas, for lines that lie partly outside
Edges = list[int]


class Drawn(NamedTuple):
    """A layer: which pixels it covers (0 or 255), in which colour, how opaque."""

    cover: np.ndarray
    colour: Colour
    opacity: int = 255


class Sheet:
    """A plane of the canvas to draw boxes and lines on."""

    def __init__(self, width: int, height: int) -> None:
        self.padded = np.zeros((height + 2 * PAD, width + 2 * PAD), np.uint8)

    def box(self, left: int, top: int, right: int, bottom: int, value: int = 255) -> None:
        """Fill a box."""
        self.padded[top + PAD : bottom + PAD, left + PAD : right + PAD] = value

    def clear(self, left: int, top: int, right: int, bottom: int) -> None:
        """Empty a box."""
        self.box(left, top, right, bottom, 0)

    def line(self, left: int, top: int, right: int, bottom: int, *dash: int) -> None:
        """Fill a box, interrupted along its longer side by a pattern of strokes and gaps.

        A pixel is drawn by its distance from the nearer end of the line, so that both ends and
        both halves look alike.
        """
        part = self.padded[top + PAD : bottom + PAD, left + PAD : right + PAD]
        across = right - left >= bottom - top
        length = right - left if across else bottom - top
        place = np.arange(length)
        place = np.minimum(place, length - 1 - place) % (sum(dash) or 1)
        ends = np.cumsum(dash) if dash else np.array([1])
        drawn = np.searchsorted(ends, place, "right") % 2 == 0
        if across:
            part[:, drawn] = 255
        else:
            part[drawn, :] = 255

    def frame(self, box: Edges, weight: int, *dash: int, outward: int = 0) -> None:
        """Four lines along the edges of a box, `outward` pixels of their weight outside it."""
        left, top, right, bottom = box
        left, top, right, bottom = left - outward, top - outward, right + outward, bottom + outward
        self.line(left, top, right, top + weight, *dash)
        self.line(left, bottom - weight, right, bottom, *dash)
        self.line(left, top, left + weight, bottom, *dash)
        self.line(right - weight, top, right, bottom, *dash)

    @property
    def plane(self) -> np.ndarray:
        """The canvas alone."""
        return self.padded[PAD:-PAD, PAD:-PAD]


def rectangular_layers(built: Built) -> dict[str, Drawn]:
    """Every layer of the canvas that has neither letters nor slanted lines, from its boxes."""
    return dict(_layers(built.case, built.boxes))


def _layers(case: Case, boxes: dict[str, Any]) -> Iterator[tuple[str, Drawn]]:
    width, height = boxes["canvas"]
    whole, trim, bleed = [0, 0, width, height], boxes["trim"], boxes["bleed"]
    safe = boxes["safe_area"]
    halves = boxes.get("halves", [{"trim": trim, "safe_area": safe}])
    left, top, right, bottom = halves[0]["trim"]
    w = max(2, 2 * nearest(Fraction(min(right - left, bottom - top), 2000)))

    sheet = Sheet(width, height)
    unit = case.dpi or 1
    for half in halves:
        left, top, right, bottom = half["safe_area"]
        at = Fraction(top)
        while nearest(at + case.capitals * unit) <= bottom:
            for y in (nearest(at), nearest(at + case.capitals * unit)):
                sheet.box(left, y, right, y + w // 2)
            at += (case.capitals + case.space) * unit
    yield "Lettering lines", Drawn(sheet.plane, BLUE, 191)

    sheet = Sheet(width, height)
    for half in halves:
        left, top, right, bottom = half["trim"]
        for middle, upright in ((left + right, True), (top + bottom, False)):
            low, high = middle // 2 - w // 2, (middle + 1) // 2 + w // 2
            ends = (low, top, high, bottom) if upright else (left, low, right, high)
            sheet.line(*ends, 12 * w, 3 * w, 2 * w, 3 * w)
    yield "Centre lines", Drawn(sheet.plane, REDDISH_PURPLE)

    if case.screen:
        sheet = Sheet(width, height)
        for y in range(case.screen, height, case.screen):
            sheet.line(0, y - w // 2, width, y + w // 2, 8 * w, 8 * w)
        yield "Screen marks", Drawn(sheet.plane, REDDISH_PURPLE)

    sheet = Sheet(width, height)
    for half in halves:
        sheet.frame(half["safe_area"], w, 6 * w, 4 * w, outward=w // 2)
    yield "Safe area", Drawn(sheet.plane, BLUISH_GREEN)

    if trim != whole:
        sheet = Sheet(width, height)
        sheet.frame(trim, w, outward=w // 2)
        if "fold" in boxes:
            sheet.box(boxes["fold"] - w // 2, trim[1], boxes["fold"] + w // 2, trim[3])
        yield "Trim", Drawn(sheet.plane, VERMILLION)

    if bleed != trim:
        sheet = Sheet(width, height)
        sheet.frame(bleed, w, 2 * w, 2 * w)
        yield "Bleed", Drawn(sheet.plane, BLUE)

    tint, border, cover = (Sheet(width, height) for _ in range(3))
    tint.box(*safe)  # panels fill the safe area, where equal panels may differ by a pixel
    cover.box(*whole)
    for panel in boxes["panels"]:
        tint.clear(*panel["box"])
        cover.clear(*panel["box"])
        border.box(*panel["box"])
    for panel in boxes["panels"]:
        inner = {
            edge: place + (0 if edge in panel.get("bleed", ()) else sign * boxes["border"])
            for edge, place, sign in zip(
                ("left", "top", "right", "bottom"), panel["box"], (1, 1, -1, -1), strict=True
            )
        }
        border.clear(*inner.values())
    if tint.plane.any():
        yield "Gutters", Drawn(tint.plane, SKY_BLUE, 77)
    yield "Panel borders", Drawn(border.plane, BLACK)
    if case.cover:
        yield "Gutter cover", Drawn(cover.plane, case.paper)
    sheet = Sheet(width, height)
    sheet.box(*whole)
    yield "Paper", Drawn(sheet.plane, case.paper)
