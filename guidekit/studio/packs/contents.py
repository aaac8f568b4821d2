"""From presets and layouts by name to a pack with all that they need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from guidekit.errors import InputError, Problem
from guidekit.geometry.plan import plan_issue
from guidekit.issue.layouts import Layouts
from guidekit.issue.load import loaded
from guidekit.issue.models.part import Part
from guidekit.layers.standard import standard_stack
from guidekit.pictures import layout_png
from guidekit.preset import PresetSource, find_preset
from guidekit.registry import unknown
from guidekit.shipped import OWNER, FullCatalogue
from guidekit.toml import toml_in
from guidekit.toml.spell import block, spelled

PICTURE = 500  # pixels along the longer edge of the picture of a page format


def contents_of(names: Sequence[str], catalogue: FullCatalogue) -> dict[str, bytes]:
    """The files of a pack of these presets and layouts, and of what they are based on.

    What comes with guidekit is everywhere and left out, unless it is named. Raises `InputError`.
    """
    presets, layouts = catalogue.presets, catalogue.layouts
    known = [*presets, *layouts]
    wrong = [x for x in names if x not in presets and x not in layouts]
    if wrong or not names:
        kind = "preset or layout"
        raise InputError(unknown(kind, name, known, argument="names") for name in wrong or [""])
    files: dict[str, bytes] = {}
    wanted = [name for name in names if name in layouts]
    for name in names:
        if name in presets:
            source = find_preset(name, catalogue)
            files |= _chain(source)
            files[f"pictures/{name}.png"] = preset_png(source, catalogue)
            wanted += [source.preset.start.first, source.preset.start.others]
    for name in dict.fromkeys(inner for one in wanted for inner in _with_inner(one, layouts)):
        entry = layouts.entry(name)
        if name in names or entry.owner.partition(",")[0] != OWNER:
            files[f"layouts/{name}.toml"] = block((name,), {**entry.written}, "[]").encode()
            files[f"pictures/layouts/{name}.png"] = layout_png(entry.thing, layouts)
    return files


def _chain(source: PresetSource) -> dict[str, bytes]:
    """A preset and all that it is based on, up to what comes with guidekit."""
    files: dict[str, bytes] = {}
    for i, link in enumerate(source.chain):
        if i and link.owner == OWNER:
            break
        name = f"{link.name}.toml"
        if not link.owner or name in files:
            came = f"it is based on a file, {link.file.path.name}, and packs hold presets by name"
            if name in files:
                came = f"it is based on another of its name, from {link.owner}"
            todo = "Give that preset a name of its own in your folder, and write that as based_on."
            raise InputError(Problem((), came, todo=todo, file=source.chain[i - 1].file.path))
        files[name] = link.file.text
    return files


def _with_inner(name: str, layouts: Layouts) -> Iterator[str]:
    """A layout and all that it names, each once."""
    found, waiting = dict[str, None](), [name]
    while waiting:
        if (here := waiting.pop()) in found or here not in layouts:
            continue
        found[here] = None
        waiting += _named(layouts.find(here))
    return iter(found)


def _named(part: Part) -> Iterator[str]:
    if isinstance(part.panels, str):
        yield part.panels
    for inner in (*(part.tiers or ()), *(part.columns or ())):
        yield from _named(inner)


def preset_png(source: PresetSource, catalogue: FullCatalogue) -> bytes:
    """A small picture of a page of a format, with its guides."""
    preset = source.preset
    inches = max(preset.page_size.width.px(1000), preset.page_size.height.px(1000)) / 1000
    dpi = preset.dpi if preset.scroll else max(1, int(PICTURE / inches))
    pages = f"panels = {spelled(preset.start.others)}"
    if preset.scroll:
        pages = 'scroll = [{ ratio = "1:1" }, { ratio = "2:3" }]'
    text = f"title = {spelled(preset.title)}\npreset = {spelled(source.name)}\n[[pages]]\n{pages}\n"
    issue = loaded(toml_in(Path("picture.toml"), text.encode()), catalogue, dpi)
    stack = standard_stack(plan_issue(issue)[0], catalogue.guides)
    (output,) = catalogue.writers.find("png-page")().write(stack)
    return b"".join(output.pieces)
