"""Where page numbers are printed: in the margin between trim and safe area."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from guidekit.geometry.page_boxes import OnePage, PageBoxes
from guidekit.issue.models.book import Folios
from guidekit.issue.order import PageEntry
from guidekit.units import half_up

if TYPE_CHECKING:
    from guidekit.geometry.rules import Rules

Align = Literal["left", "centre", "right"]


@dataclass(frozen=True)
class Folio:
    """A printed page number: its digits, `height` pixels tall, stand with their top at `top`.

    Of them lies at `x` what `align` says: their left end, their middle or their right end.
    """

    words: str
    x: int
    top: int
    height: int
    align: Align


def folios_on(entry: PageEntry, boxes: PageBoxes, rules: Rules) -> tuple[Folio, ...]:
    """The page numbers on a canvas, in reading order; a scroll has none."""
    folios = rules.folios
    if not folios or entry.page.scroll:
        return ()
    pages = boxes.pages if rules.direction == "ltr" else boxes.pages[::-1]
    return tuple(_folios(zip(entry.numbers, pages, strict=True), folios, rules))


def _folios(pages: Iterator[tuple[int, OnePage]], folios: Folios, rules: Rules) -> Iterator[Folio]:
    for number, page in pages:
        if words := rules.numbers.get(number):
            x, align = _across(page, folios)
            dpi = rules.book.dpi
            height = max(1, half_up(folios.height.px(dpi)))
            given = folios.distance
            distance = None if given is None else half_up(given.px(dpi))
            yield Folio(words, x, _top(page, folios, height, distance), height, align)


def _across(page: OnePage, folios: Folios) -> tuple[int, Align]:
    """In line with the safe area: at the edge away from the fold, toward it, or in the middle."""
    safe = page.safe_area
    if folios.place == "centre":
        return half_up(Fraction(page.trim.left + page.trim.right, 2)), "centre"
    left = (folios.place == "outside") == page.flip  # the inside of a flipped page is on its right
    return (safe.left, "left") if left else (safe.right, "right")


def _top(page: OnePage, folios: Folios, height: int, distance: int | None) -> int:
    trim, safe = page.trim, page.safe_area
    if folios.edge == "top":
        margin = safe.top - trim.top
        return trim.top + (max(0, margin - height) // 2 if distance is None else distance)
    margin = trim.bottom - safe.bottom
    return trim.bottom - height - (max(0, margin - height) // 2 if distance is None else distance)
