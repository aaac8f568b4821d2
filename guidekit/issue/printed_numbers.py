"""The numbers that are printed on pages, section by section, and which pages have none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidekit.issue.models.book import Folios
from guidekit.issue.order import PageEntry

#: CSS Counter Styles 3, section 6.1: `lower-roman`, additive, from 1 to 3,999.
_ROMAN = (
    (1000, "m"), (900, "cm"), (500, "d"), (400, "cd"), (100, "c"), (90, "xc"), (50, "l"),
    (40, "xl"), (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i"),
)  # fmt: skip
MOST_ROMAN = 3_999


def roman(number: int) -> str:
    """``24`` → ``xxiv``; in digits what has no roman number."""
    if not 1 <= number <= MOST_ROMAN:
        return str(number)
    words = ""
    for value, letters in _ROMAN:
        count, number = divmod(number, value)
        words += count * letters
    return words


def section_titles(entries: Iterable[PageEntry]) -> dict[int, str]:
    """The title of each section that has one, by the number of the page on which it begins."""
    return {
        entry.numbers[0]: entry.page.section.title
        for entry in _beginnings(entries)
        if entry.page.section and entry.page.section.title
    }


def printed_numbers(entries: Iterable[PageEntry], folios: Folios) -> dict[int, str]:
    """The words printed on each page by its number in the book; pages without any are left out.

    A section counts its pages anew where it has a `start`. Pages on which nothing is printed are
    counted all the same.
    """
    entries = list(entries)
    begins = {entry.numbers: entry.page.section for entry in _beginnings(entries)}
    style, next_number = folios.numbers, 1
    found: dict[int, str] = {}
    for entry in entries:
        if section := begins.get(entry.numbers):
            style, next_number = section.numbers or style, section.start or next_number
        for number in entry.numbers:
            if style != "none" and entry.page.folio and entry.page.kind not in folios.without:
                found[number] = roman(next_number) if style == "roman" else str(next_number)
            next_number += 1
    return found


def _beginnings(entries: Iterable[PageEntry]) -> Iterator[PageEntry]:
    """The pages on which sections begin, of pages alike the first."""
    before = None
    for entry in entries:
        if entry.page.section and entry.key != before:
            yield entry
        before = entry.key
