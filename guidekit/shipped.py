"""What comes with guidekit, all on one screen: presets, layouts, guides and writers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.registry import Catalogue, Entry, Named, Registry

if TYPE_CHECKING:
    from guidekit.issue.model import Layout
    from guidekit.layers.guides.kind import Guide
    from guidekit.writers import Writer

#: What goes through all stages; a writer is made anew for each build.
FullCatalogue = Catalogue["Layout", "Guide", "Callable[[], Writer]"]

OWNER = "guidekit"

#: Each format and what makes its writer.
WRITERS = {
    "psd": Named("guidekit.writers.psd:PsdWriter"),
    "png": Named("guidekit.writers.png:GuidesPngWriter"),
    "png-small": Named("guidekit.writers.png:SmallPngWriter"),
    "png-page": Named("guidekit.writers.png:PagePngWriter"),
    "png-layers": Named("guidekit.writers.png:LayersPngWriter"),
    "ora": Named("guidekit.writers.ora:OraWriter"),
    "tiff": Named("guidekit.writers.tiff:GuidesTiffWriter"),
    "tiff-page": Named("guidekit.writers.tiff:PageTiffWriter"),
    "svg": Named("guidekit.writers.svg:SvgWriter"),
    "pdf": Named("guidekit.writers.pdf:PdfWriter"),
    "pdf-a4": Named("guidekit.writers.pdf:PdfA4Writer"),
    "pdf-letter": Named("guidekit.writers.pdf:PdfLetterWriter"),
}


@cache
def shipped() -> FullCatalogue:
    """The catalogue of what comes with guidekit; other things are added to it, never into it."""
    return Catalogue(
        presets=Registry("preset", _presets, otherwise="the path of a .toml file"),
        layouts=Registry("layout", _layouts, hint="guidekit layouts list shows all layouts."),
        guides=Registry("guide", _guides),
        writers=Registry("format", _writers),
    )


def _presets() -> Iterator[Entry[Path]]:
    from guidekit.preset import preset_files

    return preset_files(shipped_folder(), OWNER)


def _layouts() -> Iterator[Entry[Layout]]:
    from guidekit.issue.layouts import layouts_in

    return layouts_in(shipped_folder() / "layouts", OWNER)


def _guides() -> Iterator[Entry[Guide]]:
    from guidekit.layers.guides.kinds import GUIDES

    return (Entry.of(guide.name, OWNER, guide) for guide in GUIDES)


def _writers() -> Iterator[Entry[Callable[[], Writer]]]:
    return (Entry.of(name, OWNER, writer) for name, writer in WRITERS.items())


def shipped_folder() -> Path:
    """The data that comes with guidekit: in a wheel inside the package, else in the checkout."""
    package = Path(__file__).parent
    inside = package / "shipped"
    return inside if inside.is_dir() else package.parent / "presets"
