"""The page label: which page this is, in words."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.free_places import place_for
from guidekit.layers.guides.kind import GuideInput
from guidekit.raster.shapes import Shape
from guidekit.raster.text import Text, text_width

DOT = "·"  # between two words, with a gap as wide as capitals are high on either side


def page_label(given: GuideInput) -> Iterator[Shape]:
    """Title, number, page, side, preset and note, where no art is.

    A text for each of them, so that each runs in its own direction.
    """
    words, font, most = page_words(given.page), given.font, given.pen.capitals
    dot, *widths = (text_width(word, most, font) / most for word in (DOT, *words))
    place, (height, lines) = place_for(widths, dot + 2, given)
    waiting = iter(words)
    y = place.top + (place.height - (2 * len(lines) - 1) * height) // 2
    for count in lines:
        x = place.left
        for word in [next(waiting) if k % 2 == 0 else DOT for k in range(2 * count - 1)]:
            yield Text(word, x, y, height, font)
            x += text_width(word, height, font) + height
        y += 2 * height


def page_words(page: PagePlan) -> tuple[str, ...]:
    """What the page label says."""
    book = page.book.furniture
    title = book.title if book.number is None else f"{book.title} {book.number}"
    side = "" if page.side == "single" or page.name else page.side
    return tuple(filter(None, (title, page.called, side, book.preset_title, page.note)))
