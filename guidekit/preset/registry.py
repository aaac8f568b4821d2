"""Where presets are found: by name among the shipped ones, or by the path of a TOML file.

A preset may extend another and change a few values; `PresetSource` remembers for every value
which file it came from.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property
from hashlib import sha256
from os.path import lexists, normpath
from pathlib import Path
from typing import Any

from guidekit.errors import InputError, Problem, nearest, one_of, shown
from guidekit.preset.model import Preset, spell_out
from guidekit.toml_file import checked, read_toml

LONGEST_CHAIN = 20


@dataclass(frozen=True)
class PresetSource:
    """A preset's merged values before they are checked, and the file that each came from."""

    name: str
    path: Path
    values: dict[str, Any]
    origins: dict[str, Path] = field(default_factory=dict)

    @cached_property
    def preset(self) -> Preset:
        """The checked preset; raises `InputError` with all its problems."""
        return checked(Preset, self.values, self._file_of)

    @property
    def digest(self) -> str:
        """SHA-256 of all values as merged, in hexadecimal: the same for the same format."""
        lines = sorted(f"{key} = {value!r}\n" for key, value in leaves(self.values))
        return sha256("".join(lines).encode()).hexdigest()

    @property
    def folders(self) -> tuple[Path, ...]:
        """The folders of the files that the values came from, that of the preset itself first."""
        files = (self.path, *self.origins.values())
        return tuple(dict.fromkeys(path.parent for path in files if path.suffix == ".toml"))

    def _file_of(self, key: str) -> str:
        """The name of the file that a value, or the first value of a table, came from."""
        while key:
            for known, path in self.origins.items():
                if known == key or known.startswith(f"{key}."):
                    return path.name
            key = key.rpartition(".")[0]
        return self.path.name

    def changed(self, values: dict[str, Any], path: Path) -> PresetSource:
        """The same preset with some values replaced by those of another file."""
        values = spell_out(values)
        origins = self.origins | {key: path for key, _ in leaves(values)}
        merged = _merge(self.values, values)
        kept = {key for key, _ in leaves(merged)}
        return PresetSource(
            self.name, path, merged, {key: origins[key] for key in origins if key in kept}
        )


class PresetRegistry:
    """Finds and reads presets by name in `folders`, or by path."""

    def __init__(self, *folders: Path):
        self._files: dict[str, Path] = {}
        for folder in folders:
            for path in sorted(folder.glob("*.toml")):
                self._add(path)

    def _add(self, path: Path) -> None:
        if known := self._files.get(path.stem):
            raise InputError(
                Problem(
                    str(path),
                    f'a preset "{path.stem}" is there already, from {known}',
                    "one file for each name",
                    "Rename one of the two.",
                )
            )
        self._files[path.stem] = path

    def names(self) -> tuple[str, ...]:
        """All names, sorted."""
        return tuple(sorted(self._files))

    def source(self, name: str, folder: Path | None = None, where: str = "preset") -> PresetSource:
        """The preset called `name`, or the one in the file `name` if that is a ``.toml`` path.

        A relative path starts in `folder`. Raises `InputError` led by `where`.
        """
        return self.read(self._find(name, folder or Path(), where))

    def read(self, path: Path, above: tuple[Path, ...] = ()) -> PresetSource:
        """The preset in one file; `above` are the files that extend it."""
        if path in above:
            circle = " → ".join(p.name for p in (*above[above.index(path) :], path))
            raise InputError(
                Problem(
                    f"{path.name}: based_on",
                    f"the presets extend each other in a circle ({circle})",
                    "a chain that ends",
                    'Remove one "based_on".',
                )
            )
        if len(above) > LONGEST_CHAIN:
            raise InputError(
                Problem(
                    f"{path.name}: based_on",
                    f"more than {LONGEST_CHAIN} presets extend each other",
                    f"a chain of at most {LONGEST_CHAIN}",
                    "Write the values into one preset.",
                )
            )
        values = read_toml(path)
        parent = values.pop("based_on", None)
        if parent is None:
            return PresetSource(path.stem, path, {}).changed(values, path)
        if not isinstance(parent, str):
            raise InputError(
                Problem(f"{path.name}: based_on", f"got {shown(parent)}", "the name of one preset")
            )
        found = self._find(parent, path.parent, f"{path.name}: based_on")
        merged = self.read(found, (*above, path)).changed(values, path)
        return PresetSource(path.stem, path, merged.values, merged.origins)

    def _find(self, name: str, folder: Path, where: str) -> Path:
        if name.endswith(".toml"):
            path = Path(normpath(folder / name))
            if not lexists(path):
                raise InputError(
                    Problem(where, f'there is no file "{name}"', "the path of a .toml file")
                )
            return path
        if name not in self._files:
            raise InputError(
                Problem(
                    where,
                    f'there is no preset "{name}"',
                    f"{one_of(self._files)}, or the path of a .toml file",
                    nearest(name, self._files),
                )
            )
        return self._files[name]


def shipped_folder() -> Path:
    """What comes with guidekit: in a wheel inside the package, else in the checkout."""
    package = Path(__file__).parents[1]
    inside = package / "shipped"
    return inside if inside.is_dir() else package.parent / "presets"


@cache  # what comes with guidekit never changes while it runs
def shipped_registry() -> PresetRegistry:
    """The presets that come with guidekit."""
    return PresetRegistry(shipped_folder())


def leaves(values: dict[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every single value with its dotted key: ``("gutter.across", "3 mm")``."""
    for key, value in values.items():
        if isinstance(value, dict):
            yield from leaves(value, f"{prefix}{key}.")
        else:
            yield f"{prefix}{key}", value


def _merge(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    merged = dict(base)
    for key, value in changes.items():
        old = base.get(key)
        if isinstance(value, dict) and isinstance(old, dict):
            value = _merge(old, value)
        merged[key] = value
    return merged


_COMMENTED = re.compile(r"""([\w-]+)\s*=(?:"[^"]*"|'[^']*'|[^"'#])*#\s*(.+)""")


def comments(path: Path) -> dict[str, str]:
    """The comment behind each value of a preset file, by dotted key: where its number is from."""
    found, table = {}, ""
    for line in path.read_text("utf-8").splitlines():
        line = line.strip()
        if line.startswith("["):
            table = line.split("]")[0].strip("[ ") + "."
        elif match := _COMMENTED.match(line):
            found[table + match[1]] = match[2].strip()
    return found
