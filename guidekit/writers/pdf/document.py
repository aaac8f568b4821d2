"""A PDF as it is written, through reportlab.

Reportlab (BSD licence, kept since 2000, pure Python) makes files that are the same every time,
knows the widths of the standard fonts, and embeds of a font file only the letters in use.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from guidekit.writers.pdf.lengths import Edges
from guidekit.writers.pdf.lettering import PLAIN, shown


class Document:
    """Pages one after the other; what is drawn goes on the page that `end_page` will close."""

    def __init__(self, title: str):
        self._file = BytesIO()
        self._canvas: Any = Canvas(
            self._file,
            invariant=1,  # no clock, and an identifier that comes from the content
            pageCompression=1,
            pdfVersion=(1, 6),  # PrintScaling is as old as that
            initialFontName=PLAIN,
        )
        self._canvas.setTitle(title)
        self._canvas.setAuthor("")
        self._canvas.setSubject("")
        self._canvas.setCreator("guidekit")
        self._canvas.setProducer("guidekit")
        self._canvas.setViewerPreference("PrintScaling", "None")  # ISO 32000-1 section 12.2

    def draw(self, *operators: str) -> None:
        """Add operators, each on its line."""
        for operator in operators:
            self._canvas.addLiteral(operator)

    def letters(
        self,
        text: str,
        x: Fraction | float,
        y: Fraction | float,
        size: Fraction | float,
        font: str = PLAIN,
        downward: bool = False,
    ) -> None:
        """A line of text from a point on its base line, upright even where y runs downward."""
        lines = self._canvas.beginText()
        lines.setTextTransform(1, 0, 0, -1 if downward else 1, float(x), float(y))
        lines.setFont(font, float(size))
        lines.textOut(shown(text, font))
        self._canvas.drawText(lines)

    def end_page(self, media: Edges, finished: Edges | None, inked: Edges | None) -> None:
        """Close the page; its boxes as section 14.11.2 has them, the latter two if it has them."""
        self._canvas.setPageSize((float(media.width), float(media.height)))
        self._canvas.setTrimBox(finished and [*map(float, finished)])
        self._canvas.setBleedBox(inked and [*map(float, inked)])
        self._canvas.showPage()

    def as_bytes(self) -> bytes:
        """The whole file."""
        with _binary_streams():
            self._canvas.save()
        return self._file.getvalue()


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Without ASCII85 round the compressed streams: no reader needs it, and it takes longest."""
    before, rl_config.useA85 = rl_config.useA85, 0
    try:
        yield
    finally:
        rl_config.useA85 = before
