"""How many words a panel has room for.

A rule of thumb: 35 words in each panel of a page of six, 210 on a page (common practice, no
source). In proportion to its area, a panel of half the page has room for 105.
"""

from __future__ import annotations

from fractions import Fraction

WORDS_A_PAGE = 210


def room_for(share: Fraction | float) -> int:
    """Words that go well into a panel with this share of the page."""
    return int(WORDS_A_PAGE * share)


def tight(words: int, share: Fraction | float) -> bool:
    """True if a panel will be crowded with letters."""
    return words > room_for(share)
