"""guidekit: ready-to-draw, layered comic pages for a whole issue from one small text file.

The floor plan, in the order in which an issue passes through it::

    preset/     1  what a page is made of    trim, bleed, safe area, gutters, resolution
    issue/      2  what the book holds       pages in order, their panels, their sides
    geometry/   3  where things lie          page boxes, panels, the pixel grid
    layers/     4  what is stacked           guides, borders, drawing layers, paper
    writers/    5  how it is stored          psd, ora, png, tiff, pdf, svg
    plane/         geometry of the plane     boxes, polygons, outlines
    raster/        how coverage is held      bands of runs, never planes
    store/         the folder of a build     whole files, and no drawing lost
    registry/      how things are found      by name, in one catalogue that is passed along
    shipped.py     what comes with guidekit  presets, layouts, guides, writers on one screen
    cautions/      what may cost money       in print, in an app
    preflight/     before the first file     what formats hold, what others bring
    build.py       all five on one screen
    measure.py     the first three
    plugins/       what others bring         the contract, their code looked at
    studio/        where things come from    folders, packs, the lock of an issue
    drawn/         files that come back      where each stands, new guides, moves
    planner/       shaped in a browser       its file stays the only truth
    script/        scripts of writers        made into an issue, compared with one
    overview/      pictures of the whole     every page as it faces the next
    schema/        what files may say        JSON Schema, for editors
    cli/           the command line; no logic

In three lines::

    from guidekit import build_issue
    report = build_issue("salt-road.toml", "pages", formats=["psd", "png"])
    print(report.named("written"))
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # typing has it too, but takes time that a Ctrl-C at the start would show

__version__ = "0.1.0"

if TYPE_CHECKING:
    from guidekit.build import BuildReport as BuildReport
    from guidekit.build import build_issue as build_issue
    from guidekit.build import check_issue as check_issue
    from guidekit.errors import GuidekitError as GuidekitError
    from guidekit.errors import InputError as InputError
    from guidekit.errors import MachineError as MachineError
    from guidekit.measure import load_issue as load_issue
    from guidekit.measure import measure_issue as measure_issue
    from guidekit.preset import Preset as Preset
    from guidekit.units import Length as Length

_HOMES = {
    "BuildReport": "build",
    "GuidekitError": "errors",
    "InputError": "errors",
    "Length": "units",
    "MachineError": "errors",
    "Preset": "preset",
    "build_issue": "build",
    "check_issue": "build",
    "load_issue": "measure",
    "measure_issue": "measure",
}

__all__ = [*sorted(_HOMES), "__version__"]


def __dir__() -> list[str]:
    """The public names, those too that are not imported yet."""
    return sorted({*globals(), *__all__})


def __getattr__(name: str) -> object:
    """Public names are imported when they are first used, so that starting stays quick."""
    if name not in _HOMES:
        raise AttributeError(f"module 'guidekit' has no attribute {name!r}")
    return getattr(import_module(f"guidekit.{_HOMES[name]}"), name)
