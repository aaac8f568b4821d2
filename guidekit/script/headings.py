"""Headings of pages and panels, in the words of several languages.

A script keeps to one of them: the one in whose words most of its lines are headings. Numbers are
digits, in English words too.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from guidekit.script.numbers import NUMBER, number_in

_TO = r"\s*(?:-|–|—|&|/|\+|・|～|〜|to\b|and\b|through\b|et\b|und\b|y\b|e\b)\s*"
_SPREAD = re.compile(
    r"\b(?:spread|double[ -]page|two[ -]page|page double|double planche|doble p|doppelseit"
    r"|pagina doppia|doppia pagina|página dupla)|見開き",
    re.IGNORECASE,
)
PUNCTUATION = " \t:.,;-–—()[]"


class Range(NamedTuple):
    """What a heading counts: the first and the last number, and what stands behind them."""

    first: int
    last: int
    behind: str


@dataclass(frozen=True)
class HeadingWords:
    """What a language calls pages and panels, as parts of regular expressions.

    Where `number_first`, the number may stand before the word.
    """

    page: str
    panel: str
    number_first: bool = False

    def page_in(self, text: str) -> Range | None:
        """``PAGES 4-5 (spread)`` → 4, 5, ``(spread)``; None of any other line."""
        return _range(self._page.fullmatch(text))

    def panel_in(self, text: str) -> Range | None:
        """``Panel 2. A door`` → 2, 2, ``. A door``; None of any other line."""
        return _range(self._panel.fullmatch(text))

    def both_in(self, text: str) -> tuple[str, str] | None:
        """``PAGE 4 / PANEL 1`` as two headings; None of any other line."""
        found = self._both.fullmatch(text)
        return (found[1], found[2]) if found else None

    def panels_counted(self, heading: str) -> int | None:
        """How many panels a page's heading says that it has: ``(FIVE PANELS)`` → 5."""
        found = self._count.search(heading)
        return number_in(found[1]) if found else None

    def lacks_number(self, text: str) -> bool:
        """True of a heading in capitals without a number."""
        return bool(self._bare.fullmatch(text)) and text.isupper()

    def matches(self, text: str) -> bool:
        """True if a line is a heading in this language."""
        return bool(self._page.fullmatch(text) or self._panel.fullmatch(text))

    @cached_property
    def _page(self) -> re.Pattern[str]:
        alone = rf"(?!\s*(?:{self.panel})\b)"  # the 5 of PAGE 4 - 5 PANELS counts something else
        words = rf"spread|splash|double|two-page|{self.panel}|\d+ (?:{self.panel})|cont"
        behind = rf"(\s*(?:[:.,;)(\[–—-].*|（.*|(?:{words})\b.*)?)"
        return self._pattern(self.page, rf"(?:{_TO}({NUMBER}{alone}))?", behind)

    @cached_property
    def _panel(self) -> re.Pattern[str]:
        return self._pattern(rf"(?:inset\s+)?(?:{self.panel})", rf"(?:{_TO}({NUMBER}))?", "(.*)")

    def _pattern(self, word: str, last: str, behind: str) -> re.Pattern[str]:
        usual = rf"(?:{word})\.?\s*#?\s*({NUMBER}){last}{behind}"
        if self.number_first:
            usual += rf"|(\d{{1,5}})(?:{_TO}(\d{{1,5}}))?\s*(?:{word})目?([^\w].*)?"
        return re.compile(usual, re.IGNORECASE)

    @cached_property
    def _both(self) -> re.Pattern[str]:
        page, panel = (rf"(?:{word})\.?\s*#?\s*{NUMBER}" for word in (self.page, self.panel))
        return re.compile(rf"({page})[\s,/:.–—-]*({panel}(?:\s*[:.,;(–—-].*)?)", re.IGNORECASE)

    @cached_property
    def _count(self) -> re.Pattern[str]:
        return re.compile(rf"(?<!\w)({NUMBER})[ -]?(?:{self.panel})\b", re.IGNORECASE)

    @cached_property
    def _bare(self) -> re.Pattern[str]:
        return re.compile(rf"(?:{self.page}|{self.panel})\b.{{0,20}}", re.IGNORECASE)


LANGUAGES = (
    HeadingWords("pages?|pgs?", "panels?|pnls?"),
    HeadingWords("planches?|pages?", "cases?|vignettes?"),
    HeadingWords("p[áa]ginas?", "vi[ñn]etas?|cuadros?|quadr(?:inh)?os?|pain[eé]l|paineis"),
    HeadingWords("seiten?", "panels?|bild(?:er)?"),
    HeadingWords("pagin[ae]|tavol[ae]", "vignett[ae]"),
    HeadingWords("ページ|頁", "コマ|パネル", number_first=True),
)


def headings_of(lines: Sequence[str]) -> HeadingWords:
    """The language in whose words most lines are headings; English if none is."""
    bare = [without_marks(line) for line in lines]
    return max(LANGUAGES, key=lambda language: sum(map(language.matches, bare)))


def without_marks(line: str) -> str:
    """A line without the marks of sections and of emphasis."""
    return re.sub(r"[*_]{1,3}", "", line).strip("# \t　")


def says_spread(heading: str) -> bool:
    """True if what stands behind the number of a page makes it two."""
    return bool(_SPREAD.search(heading))


def _range(found: re.Match[str] | None) -> Range | None:
    if not found:
        return None
    first, last, behind = found.groups()[:3] if found[1] else found.groups()[3:]
    return Range(number_in(first), number_in(last or first), behind or "")
