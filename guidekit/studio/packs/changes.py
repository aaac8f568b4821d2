"""What a pack changes of what there is to name."""

from __future__ import annotations

from dataclasses import dataclass, replace

from guidekit.issue.layouts import layouts_of
from guidekit.issue.reading import number_of_panels
from guidekit.preset import find_preset
from guidekit.registry import Entry
from guidekit.shipped import FullCatalogue
from guidekit.studio.difference import layout_differences, preset_differences
from guidekit.studio.pack_file.archive import Pack


@dataclass(frozen=True)
class PackChange:
    """What a pack changes of one thing: ``new``, ``other``, ``same`` or ``gone``."""

    kind: str
    name: str
    what: str
    differences: tuple[str, ...] = ()


def with_pack(pack: Pack, catalogue: FullCatalogue) -> FullCatalogue:
    """The same, and what is in a pack before all else."""
    owner = f"pack {pack.card.name}"
    presets = (Entry.of(name, owner, file) for name, file in pack.presets.items())
    layouts = (entry for file in pack.layouts for entry in layouts_of(file, owner))
    return replace(
        catalogue,
        presets=catalogue.presets.shadowed_by(*presets),
        layouts=catalogue.layouts.shadowed_by(*layouts),
    )


def changes(pack: Pack, catalogue: FullCatalogue, old: Pack | None = None) -> list[PackChange]:
    """What is new and what is other than in a catalogue, where each thing of the pack is checked.

    `old` is the pack that this one replaces. Raises `InputError` for what is wrong in it.
    """
    own = with_pack(pack, catalogue)
    found = []
    for name in pack.presets:
        new = find_preset(name, own).preset
        before = find_preset(name, catalogue).preset if name in catalogue.presets else None
        told = tuple(preset_differences(before, new)) if before else ()
        found.append(_change("preset", name, before is None, told))
    for file in pack.layouts:
        for name, table in file.values.items():
            number_of_panels(own.layouts.find(name), own.layouts)
            there = name in catalogue.layouts
            was = {**catalogue.layouts.entry(name).written} if there else {}
            told = tuple(layout_differences(was, table)) if there else ()
            found.append(_change("layout", name, not there, told))
    gone = {*old.presets} - {*pack.presets} if old else set()
    return [*found, *(PackChange("gone", name, "preset") for name in sorted(gone))]


def _change(what: str, name: str, is_new: bool, told: tuple[str, ...]) -> PackChange:
    return PackChange("new" if is_new else "other" if told else "same", name, what, told)
