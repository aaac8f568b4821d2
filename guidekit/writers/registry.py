"""The writers by name. Another format is one folder and one line here."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

from guidekit.errors import InputError, Problem, nearest, one_of, shown
from guidekit.writers.protocol import Writer

#: Name → where it is; read only when it is asked for, so that starting stays quick.
WRITERS = {
    "psd": "guidekit.writers.psd:PsdWriter",
    "png": "guidekit.writers.png:GuidesPngWriter",
    "png-rgba": "guidekit.writers.png:FullColourPngWriter",
    "png-page": "guidekit.writers.png:PagePngWriter",
    "png-layers": "guidekit.writers.png:LayersPngWriter",
    "ora": "guidekit.writers.ora:OraWriter",
    "tiff": "guidekit.writers.tiff:GuidesTiffWriter",
    "tiff-page": "guidekit.writers.tiff:PageTiffWriter",
    "svg": "guidekit.writers.svg:SvgWriter",
    "pdf": "guidekit.writers.pdf:PdfWriter",
    "pdf-a4": "guidekit.writers.pdf:PdfA4Writer",
    "pdf-letter": "guidekit.writers.pdf:PdfLetterWriter",
}


def writer_called(name: str) -> Writer:
    """The writer called `name`; raises `InputError` with the nearest name."""
    if name not in WRITERS:
        came = f"there is no format {shown(name)}"
        todo = nearest(name, WRITERS)
        raise InputError(Problem((), came, one_of(WRITERS), todo, argument="formats"))
    module, _, attribute = WRITERS[name].partition(":")
    make: Callable[[], Writer] = getattr(import_module(module), attribute)
    return make()
