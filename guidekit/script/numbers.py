"""Numbers in headings, as digits and in words: ``PAGE 21``, ``PAGE TWENTY-ONE``."""

from __future__ import annotations

import re

_SMALL = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_WORDS = {word: n for n, word in enumerate(_SMALL, 1)}
_WORDS |= {word: 20 + 10 * n for n, word in enumerate(_TENS)}
_WORDS |= {
    f"{ten} {word}": 20 + 10 * n + m
    for n, ten in enumerate(_TENS)
    for m, word in enumerate(_SMALL[:9], 1)
}

_IN_WORDS = rf"(?:{'|'.join(_TENS)})(?:[ -](?:{'|'.join(_SMALL[:9])}))?"
_TEENS = "|".join(_SMALL[::-1])
#: A number up to five digits, or in words up to ninety-nine; these in ASCII, for without regard to
#: case `re` takes a dotless i for an i, and a long s for an s.
NUMBER = rf"(?:\d{{1,5}}|(?a:{_IN_WORDS}|{_TEENS}))(?!\w)"


def number_in(text: str) -> int:
    """``21``, ``twenty-one`` → 21; the text is a `NUMBER` in any letter case."""
    return int(text) if text.isdecimal() else _WORDS[re.sub("[ -]", " ", text.lower())]
