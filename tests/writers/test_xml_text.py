"""Text that goes into XML: what XML 1.0 (section 2.2) has no place for is replaced, and no more."""

import sys
from xml.parsers.expat import ExpatError, ParserCreate

from guidekit.writers.metadata import xml_text

EVERY = "".join(map(chr, range(sys.maxunicode + 1)))
KEPT = [before == after for before, after in zip(EVERY, xml_text(EVERY), strict=True)]


def parsed(text: str) -> bool:
    """True if expat takes a document with this text."""
    try:
        ParserCreate().Parse(b"<a><![CDATA[" + text.encode("utf-8", "surrogatepass") + b"]]></a>")
    except ExpatError:
        return False
    return True


def test_what_is_kept() -> None:
    """Expat takes every character that is kept."""
    assert parsed("".join(letter for letter, kept in zip(EVERY, KEPT, strict=True) if kept))


def test_what_is_replaced() -> None:
    """Expat refuses every character that is replaced."""
    replaced = [letter for letter, kept in zip(EVERY, KEPT, strict=True) if not kept]
    assert len(replaced) == 29 + 2048 + 2  # controls, surrogates, U+FFFE and U+FFFF
    assert not any(map(parsed, replaced))
