"""Where presets are found: by name among the shipped ones, or by the path of a TOML file.

A preset may be based on another and change a few values; `PresetSource` remembers for every value
which file it came from.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from hashlib import sha256
from itertools import takewhile
from os.path import lexists, normpath
from pathlib import Path
from typing import Any

from guidekit.errors import InputError, Key, Problem, nearest, one_of, shown
from guidekit.preset.model import Preset, spell_out
from guidekit.toml.file import Origin, TomlFile, located, read_toml
from guidekit.toml.model import checked

LONGEST_CHAIN = 20
ASKED = Origin(argument="preset")


@dataclass(frozen=True)
class PresetSource:
    """A preset's merged values before they are checked, and where each comes from.

    `home` is the file that was read last, for what no value is to blame for; `latest` is where the
    last changes come from.
    """

    name: str
    path: Path
    values: dict[str, Any]
    home: Origin
    latest: Origin
    origins: dict[str, Origin] = field(default_factory=dict)

    @cached_property
    def preset(self) -> Preset:
        """The checked preset; raises `InputError` with all its problems."""
        return checked(Preset, self.values, self)

    @property
    def digest(self) -> str:
        """SHA-256 of all values as merged, in hexadecimal: the same for the same format."""
        lines = sorted(f"{key} = {value!r}\n" for key, value in leaves(self.values))
        return sha256("".join(lines).encode()).hexdigest()

    @property
    def folders(self) -> tuple[Path, ...]:
        """The folders of the files that the values came from, that of the preset itself first."""
        files = (self.path, *(origin.file.path for origin in self.origins.values() if origin.file))
        return tuple(dict.fromkeys(path.parent for path in files))

    @cached_property
    def _tables(self) -> dict[str, Origin]:
        """Where each value, and the first value of each table, comes from."""
        found: dict[str, Origin] = {}
        for key, origin in self.origins.items():
            while key and key not in found:
                found[key] = origin
                key = key.rpartition(".")[0]
        return found

    def of(self, problem: Problem) -> tuple[Origin, Key]:
        """Where the value comes from that is to blame, of several the one that was changed last."""
        there = [key for key in problem.also if ".".join(map(str, key)) in self._tables]
        found = [(self._origin_of(key), key) for key in (problem.key, *there)]
        order = (self.latest, self.home)
        return min(found, key=lambda pair: order.index(pair[0]) if pair[0] in order else 2)

    def _origin_of(self, key: Key) -> Origin:
        """Where a value or a table comes from; for what is not there, the table round it."""
        names = [*takewhile(lambda part: isinstance(part, str), key)]
        ways = (".".join(map(str, names[:n])) for n in range(len(names), 0, -1))
        return next((self._tables[way] for way in ways if way in self._tables), self.home)

    def changed(self, values: dict[str, Any], origin: Origin) -> PresetSource:
        """The same preset with some values replaced by those of another file."""
        values = spell_out(values)
        origins = self.origins | {key: origin for key, _ in leaves(values)}
        merged = _merge(self.values, values)
        kept = {key for key, _ in leaves(merged)}
        origins = {key: origins[key] for key in origins if key in kept}
        home = origin if origin.file else self.home
        return PresetSource(self.name, self.path, merged, home, origin, origins)


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
                    (),
                    f"a preset {shown(path.stem)} is there already, from {known}",
                    "one file for each name",
                    "Give one of the two another name.",
                    file=path,
                )
            )
        self._files[path.stem] = path

    def names(self) -> tuple[str, ...]:
        """All names, sorted."""
        return tuple(sorted(self._files))

    def source(self, name: str, folder: Path | None = None, asked: Origin = ASKED) -> PresetSource:
        """The preset called `name`, or the one in the file `name` if that is a ``.toml`` path.

        A relative path starts in `folder`; `asked` is where the name stands. Raises `InputError`.
        """
        return self.read(self._find(name, folder or Path(), asked))

    def read(self, path: Path, above: tuple[Path, ...] = ()) -> PresetSource:
        """The preset in one file; `above` are the files that are based on it."""
        file = read_toml(path)
        values = dict(file.values)
        parent, based_on = values.pop("based_on", None), Origin(file, ("based_on",))
        if path in above:
            circle = " → ".join(p.name for p in (*above[above.index(path) :], path))
            raise _refused(
                based_on,
                f"the presets are based on each other in a circle ({circle})",
                "a chain that ends",
                "Take out one based_on.",
            )
        if len(above) > LONGEST_CHAIN:
            raise _refused(
                based_on,
                f"more than {LONGEST_CHAIN} presets are based on each other",
                f"a chain of at most {LONGEST_CHAIN}",
                "Write the values into one preset.",
            )
        if parent is None:
            own = Origin(file)
            return PresetSource(path.stem, path, {}, own, own).changed(values, own)
        if not isinstance(parent, str):
            came = f"{shown(parent)} is not the name of a preset"
            raise _refused(based_on, came, "the name of one preset")
        found = self._find(parent, path.parent, based_on)
        merged = self.read(found, (*above, path)).changed(values, Origin(file))
        return replace(merged, name=path.stem, path=path)

    def _find(self, name: str, folder: Path, asked: Origin) -> Path:
        if name.endswith(".toml"):
            path = Path(normpath(folder / name))
            if not lexists(path):
                raise _refused(asked, f"there is no file {shown(name)}", "the path of a .toml file")
            return path
        if name not in self._files:
            raise _refused(
                asked,
                f"there is no preset {shown(name)}",
                f"{one_of(self._files)}, or the path of a .toml file",
                nearest(name, self._files),
            )
        return self._files[name]


def _refused(where: Origin, came: str, allowed: str, todo: str = "") -> InputError:
    return InputError(located([Problem((), came, allowed, todo)], where))


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


def comments(file: TomlFile) -> dict[str, str]:
    """The comment behind each value of a preset file, by dotted key: where its number is from."""
    found, table = {}, ""
    for line in file.text.decode().splitlines():
        line = line.strip()
        if line.startswith("["):
            table = line.split("]")[0].strip("[ ") + "."
        elif match := _COMMENTED.match(line):
            found[table + match[1]] = match[2].strip()
    return found
