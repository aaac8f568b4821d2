"""Two presets or two packs side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from guidekit.preset import find_preset
from guidekit.shipped import FullCatalogue
from guidekit.studio.difference import layout_differences, preset_differences
from guidekit.studio.pack_file.archive import Pack, read_pack
from guidekit.studio.packs.changes import with_pack
from guidekit.toml import Origin


def differences(one: str, other: str, catalogue: FullCatalogue) -> list[str]:
    """What differs, one line each; a name that ends in ``.zip`` is a pack. Raises `InputError`."""
    if one.endswith(".zip") and other.endswith(".zip"):
        return _packs(read_pack(Path(one)), read_pack(Path(other)), catalogue)
    old, new = (find_preset(name, catalogue, asked=Origin()).preset for name in (one, other))
    return [*preset_differences(old, new)]


def _packs(old: Pack, new: Pack, catalogue: FullCatalogue) -> list[str]:
    lines = []
    before, after = with_pack(old, catalogue), with_pack(new, catalogue)
    for name in dict.fromkeys((*old.presets, *new.presets)):
        if name in old.presets and name in new.presets:
            told = preset_differences(
                find_preset(name, before).preset, find_preset(name, after).preset
            )
            lines += [f"preset {name}: {text}" for text in told]
        else:
            lines.append(f"preset {name}: only in {(old if name in old.presets else new).path}")
    was, now = _layouts(old), _layouts(new)
    for name in dict.fromkeys((*was, *now)):
        if name in was and name in now:
            told = layout_differences(was[name], now[name])
            lines += [f"layout {name}: {text}" for text in told]
        else:
            lines.append(f"layout {name}: only in {(old if name in was else new).path}")
    return lines


def _layouts(pack: Pack) -> dict[str, Any]:
    return {name: table for file in pack.layouts for name, table in file.values.items()}
