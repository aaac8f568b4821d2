"""Text and names as XML 1.0 (W3C, fifth edition) takes them, and elements put together."""

from __future__ import annotations

import re
from html import escape

from guidekit.writers.metadata import xml_text

_START = (  # section 2.3, NameStartChar without the colon, which belongs to namespaces
    "A-Z_a-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u02ff\u0370-\u037d\u037f-\u1fff\u200c\u200d"
    "\u2070-\u218f\u2c00-\u2fef\u3001-\ud7ff\uf900-\ufdcf\ufdf0-\ufffd\U00010000-\U000effff"
)
_NOT_NAME = re.compile(f"[^{_START}\\-.0-9\u00b7\u0300-\u036f\u203f\u2040]+")
_WHITE = {ord(c): f"&#{ord(c)};" for c in "\t\n\r"}
_NOT_START = re.compile(f"[^{_START}]")


def words(text: str) -> str:
    """Text between tags; what XML cannot hold at all becomes U+FFFD."""
    return escape(xml_text(text), quote=False)


def element(name: str, content: str = "", /, **attributes: object) -> str:
    """An element. ``fill_rule`` is written ``fill-rule``; attributes of None are left out."""
    pairs = "".join(
        f" {key.replace('_', '-')}={_quoted(value)}"
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{pairs}>{content}</{name}>" if content else f"<{name}{pairs}/>"


def _quoted(value: object) -> str:
    """In quotes; white space as references, or readers take it for blanks (section 3.3.3)."""
    return f'"{escape(xml_text(str(value))).translate(_WHITE)}"'


def lines(elements: list[str]) -> str:
    """Elements one below the other, between the tags of another."""
    return "".join(f"\n{one}" for one in elements) + "\n" if elements else ""


class Ids:
    """Names for elements, each given once: as like the wanted one as XML allows."""

    def __init__(self) -> None:
        self._given: set[str] = set()

    def new(self, wanted: str) -> str:
        """``Thin lines`` → ``Thin-lines``, and ``Thin-lines-2`` when that is taken."""
        plain = _NOT_NAME.sub("-", wanted)
        if not plain or _NOT_START.match(plain):
            plain = f"_{plain}"
        name, number = plain, 1
        while name in self._given:
            number += 1
            name = f"{plain}-{number}"
        self._given.add(name)
        return name
