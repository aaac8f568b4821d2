"""What comes with guidekit, all on one screen: presets, layouts, guides and writers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.registry import Catalogue, Entry, Named, Registry

if TYPE_CHECKING:
    from guidekit.issue.models.part import Layout
    from guidekit.layers.guides.kind import Guide
    from guidekit.toml import TomlFile
    from guidekit.writers import Writer

#: What goes through all stages; a writer is made anew for each build.
FullCatalogue = Catalogue["TomlFile", "Layout", "Guide", "Callable[[], Writer]"]

OWNER = "guidekit"

#: Each format: its name, where its writer is, and what it is in a line for people.
WRITERS = (
    ("psd",        "psd:PsdWriter",         "layered PSD, for any raster drawing app (PSB above 30,000 px)"),
    ("png",        "png:GuidesPngWriter",   "one flat, transparent PNG of the guides and borders, in full colour"),
    ("png-small",  "png:SmallPngWriter",    "the same PNG with a palette, a small file to look at and not to draw on"),
    ("png-page",   "png:PagePngWriter",     "one flat PNG of the page as it is seen, paper and all"),
    ("png-layers", "png:LayersPngWriter",   "a folder of transparent PNGs, one a layer"),
    ("ora",        "ora:OraWriter",         "layered OpenRaster, an open format of drawing apps"),
    ("tiff",       "tiff:GuidesTiffWriter", "one flat, transparent TIFF of the guides and borders, with resolution"),
    ("tiff-page",  "tiff:PageTiffWriter",   "one flat TIFF of the page as it is seen, paper and all, with resolution"),
    ("svg",        "svg:SvgWriter",         "one SVG a page at true size, lines and areas as shapes, for vector drawing apps"),
    ("pdf",        "pdf:PdfWriter",         "one PDF a page at true size, in non-photo blue, to print and draw on"),
    ("pdf-a4",     "pdf:PdfA4Writer",       "the same PDF over as many sheets of A4 as it takes, with an overlap to glue"),
    ("pdf-letter", "pdf:PdfLetterWriter",   "the same PDF over as many sheets of US letter as it takes, with an overlap to glue"),
)  # fmt: skip


@cache  # what comes with guidekit never changes while it runs
def shipped() -> FullCatalogue:
    """The catalogue of what comes with guidekit; other things are added to it, never into it."""
    return Catalogue(
        presets=Registry("preset", _presets, otherwise="the path of a .toml file"),
        layouts=Registry("layout", _layouts, lister="layout_rows"),
        guides=Registry("guide", _guides),
        writers=Registry("format", _writers),
    )


def _presets() -> Iterator[Entry[TomlFile]]:
    from guidekit.preset import preset_files

    return preset_files(shipped_folder(), OWNER)


def _layouts() -> Iterator[Entry[Layout]]:
    from guidekit.issue.layouts import layouts_in

    return layouts_in(shipped_folder() / "layouts", OWNER)


def _guides() -> Iterator[Entry[Guide]]:
    from guidekit.layers.guides.kinds import GUIDES

    return (Entry.of(guide.name, OWNER, guide) for guide in GUIDES)


def _writers() -> Iterator[Entry[Callable[[], Writer]]]:
    for name, place, about in WRITERS:
        yield Entry.of(name, OWNER, Named(f"guidekit.writers.{place}", heavy=True), about)


def shipped_folder() -> Path:
    """The data that comes with guidekit: in a wheel inside the package, else in the checkout."""
    package = Path(__file__).parent
    inside = package / "shipped"
    return inside if inside.is_dir() else package.parent / "presets"
