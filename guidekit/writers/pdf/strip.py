"""The strip outside the page: a ruler to check the print against, and a line of words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from guidekit.raster.text import text_width
from guidekit.writers.pdf.document import Document
from guidekit.writers.pdf.lengths import INCH, MM
from guidekit.writers.pdf.lettering import letters
from guidekit.writers.pdf.marks import MARK_WEIGHT
from guidekit.writers.pdf.operators import RESTORE, SAVE, line, moved, weight
from guidekit.writers.pdf.sheets import RulerStrip

ADVICE = "print at 100 %, no fitting"
CAPITALS = Fraction(3, 2) * MM
WORDS = MM / 2  # their base line above the strip's lower edge; what hangs below it has room
BASE = 4 * MM  # where the ruler's line lies above the strip's lower edge, with words below it
SHORT, LONG = Fraction(4, 5) * MM, Fraction(8, 5) * MM  # ticks
LABEL = 12 * MM  # room for the words at the ruler's end


def draw_strip(document: Document, strip: RulerStrip, words: str) -> None:
    """Millimetres above a line, inches below it, and words under both."""
    millimetres = _at_most(100, (strip.length - LABEL) / MM, step=10)
    inches = _at_most(4, (strip.length - LABEL) / INCH, step=1)
    document.draw(SAVE, moved(strip.x, strip.y, strip.upright), weight(MARK_WEIGHT))
    document.draw(*ruler(millimetres, inches))
    end = max(millimetres * MM, inches * INCH) + MM
    document.draw(*letters(f"{millimetres} mm", end, BASE + MM / 2, CAPITALS))
    document.draw(*letters(f"{inches} in", end, BASE - MM / 2 - CAPITALS, CAPITALS))
    shrunk = min(CAPITALS, CAPITALS * strip.length / text_width(words, float(CAPITALS)))
    document.draw(*letters(words, Fraction(0), WORDS, shrunk))
    document.draw(RESTORE)


def ruler(millimetres: int, inches: int) -> Iterator[str]:
    """Ticks from 0 on: every mm, longer every 10; every 1/8 in, longer every inch."""
    yield line(Fraction(0), BASE, max(millimetres * MM, inches * INCH), BASE)
    for tick in range(millimetres + 1):
        yield _tick(tick * MM, SHORT if tick % 10 else LONG)
    for tick in range(8 * inches + 1):
        yield _tick(tick * INCH / 8, -SHORT if tick % 8 else -LONG)


def _tick(x: Fraction, up: Fraction) -> str:
    return line(x, BASE, x, BASE + up)


def _at_most(wanted: int, room: Fraction, step: int) -> int:
    """As long as wanted, or as many whole steps as there is room for; at least one."""
    return min(wanted, max(step, int(room // step) * step))
