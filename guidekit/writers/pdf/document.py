"""A PDF as it is written, through reportlab.

Reportlab (BSD licence, kept since 2000, pure Python) makes files that are the same every time. It
has no types; what is used of it stands here.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from guidekit.writers.pdf.lengths import Rectangle


class _Canvas(Canvas):  # type: ignore[misc]  # reportlab has no types
    def _make_preamble(self) -> None:
        """No font to begin with: it would be one that is not embedded."""
        self._preamble = ""


class Document:
    """Pages one after the other; what is drawn goes on the page that `end_page` will close."""

    def __init__(self, title: str):
        self._file = BytesIO()
        with _no_clock():
            self._canvas: Any = _Canvas(
                self._file,
                invariant=1,  # the same date always, an identifier that comes from the content
                pageCompression=1,
                pdfVersion=(1, 6),  # PrintScaling is as old as that
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

    def picture(self, jpeg: bytes, place: Rectangle) -> None:
        """Lay a JPEG over a place of the page; it is stored as it is."""
        from reportlab.lib.utils import ImageReader  # few documents have pictures

        left, bottom, width, height = map(
            float, (place.left, place.bottom, place.width, place.height)
        )
        self._canvas.drawImage(ImageReader(BytesIO(jpeg)), left, bottom, width, height)

    def end_page(
        self, media: Rectangle, finished: Rectangle | None, inked: Rectangle | None
    ) -> None:
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
def _no_clock() -> Iterator[None]:
    """Without a date from outside: reportlab prefers this one, and fails where it is no number."""
    given = os.environ.pop("SOURCE_DATE_EPOCH", None)
    try:
        yield
    finally:
        if given is not None:
            os.environ["SOURCE_DATE_EPOCH"] = given


@contextmanager
def _binary_streams() -> Iterator[None]:
    """Without ASCII85 round the compressed streams: no reader needs it, and it takes longest."""
    before, rl_config.useA85 = rl_config.useA85, 0
    try:
        yield
    finally:
        rl_config.useA85 = before
