"""Where presets are found: by name in the catalogue, or by the path of a TOML file.

A preset may be based on another and change a few values; `PresetSource` remembers for every value
which file it came from.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from itertools import takewhile
from os.path import normpath
from pathlib import Path
from typing import Any, NamedTuple
from unicodedata import normalize

from guidekit.digest import digest_of
from guidekit.errors import InputError, Key, Problem, shown
from guidekit.preset.model import Preset
from guidekit.preset.sizes import spell_out
from guidekit.registry import Catalogue, Entry
from guidekit.toml.check import checked
from guidekit.toml.file import Origin, TomlFile, located, named_toml, read_toml
from guidekit.toml.tables import merged
from guidekit.units import Length

LONGEST_CHAIN = 20
ASKED = Origin(argument="preset")

#: What a preset may name: files of presets, and guides, of which it knows nothing but names.
Known = Catalogue[TomlFile, Any, Any, Any]


def preset_files(folder: Path, owner: str) -> Iterator[Entry[TomlFile]]:
    """The presets of a folder, sorted by name; each file is one, and read when it is used."""
    for path in sorted(folder.glob("*.toml"), key=lambda path: path.stem):
        yield preset_entry(path, owner)


def preset_entry(path: Path, owner: str) -> Entry[TomlFile]:
    """The preset in one file, under the file's name."""
    return Entry(normalize("NFC", path.stem), owner, partial(read_toml, path))


class Link(NamedTuple):
    """One preset of a chain: what it is called, who brought it, and its file."""

    name: str
    owner: str
    file: TomlFile


@dataclass(frozen=True)
class PresetSource:
    """A preset's merged values before they are checked, and where each comes from.

    `home` is the file that was read last, for what no value is to blame for; `latest` is where the
    last changes come from. `known` is what the preset may name, `chain` the preset itself and those
    that it is based on, one after the other.
    """

    name: str
    path: Path
    values: dict[str, Any]
    home: Origin
    latest: Origin
    known: Known
    chain: tuple[Link, ...]
    origins: dict[str, Origin] = field(default_factory=dict)

    @cached_property
    def preset(self) -> Preset:
        """The checked preset; raises `InputError` with all its problems."""
        return checked(Preset, self.values, self, {"guides": self.known.guides})

    @property
    def digest(self) -> str:
        """The digest of all values as merged: the same for the same format."""
        return digest_of(self.plain)

    @property
    def plain(self) -> dict[str, Any]:
        """All values as merged, as a file could write them: text, numbers, lists and tables."""
        return {key: _plain(value) for key, value in self.values.items()}

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
        together = merged(self.values, values)
        kept = {key for key, _ in leaves(together)}
        origins = {key: origins[key] for key in origins if key in kept}
        home = origin if origin.file else self.home
        return replace(self, values=together, home=home, latest=origin, origins=origins)


def find_preset(
    name: str, known: Known, folder: Path = Path(), asked: Origin = ASKED
) -> PresetSource:
    """The preset called `name`, or the one in the file `name` if that is a ``.toml`` path.

    A relative path starts in `folder`; `asked` is where the name stands. Raises `InputError`.
    """
    return _read(_link(name, known, folder, asked, ()), known)


def read_preset(path: Path, known: Known) -> PresetSource:
    """The preset in one file; raises `InputError`."""
    return _read(Link(path.stem, "", read_toml(path)), known)


def _read(link: Link, known: Known, above: tuple[Path, ...] = ()) -> PresetSource:
    """A preset with all that it is based on; `above` are the files that are based on it."""
    name, file = link.name, link.file
    path, values = file.path, dict(file.values)
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
        return PresetSource(name, path, {}, own, own, known, (link,)).changed(values, own)
    if not isinstance(parent, str):
        came = f"{shown(parent)} is not the name of a preset"
        raise _refused(based_on, came, "the name of one preset")
    above = (*above, path)
    source = _read(_link(parent, known, path.parent, based_on, above), known, above)
    source = source.changed(values, Origin(file))
    return replace(source, name=name, path=path, chain=(link, *source.chain))


def _link(name: str, known: Known, folder: Path, asked: Origin, above: tuple[Path, ...]) -> Link:
    """The preset of this name; one that is based on its own name means that which it shadows."""
    if name.endswith(".toml") and name not in known.presets:
        path = Path(normpath(folder / name))
        file = named_toml(path)
        if file is None:
            raise _refused(asked, f"there is no file {shown(name)}", "the path of a .toml file")
        link = Link(path.stem, "", file)
    else:
        try:
            entry = known.presets.entry(name)
            while entry.shadows and entry.thing.path in above[-1:]:
                entry = entry.shadows
            link = Link(name, entry.owner, entry.thing)
        except InputError as error:
            raise InputError(located(error.problems, asked)) from None
    if is_issue(link.file.values):
        came = f"{shown(name)} is an issue and not a preset"
        raise _refused(asked, came, "a preset", "Name a preset.")
    return link


def check_start(source: PresetSource) -> None:
    """Raise `InputError` where there is no layout that a new issue of this preset begins with."""
    problems: list[Problem] = []
    for key in ("first", "others"):
        try:
            source.known.layouts.entry(getattr(source.preset.start, key), key=("start", key))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(located(problems, source))


def is_issue(values: dict[str, Any]) -> bool:
    """True for what an issue's file says: it has a list of pages."""
    return isinstance(values.get("pages"), list)


def _refused(where: Origin, came: str, allowed: str, todo: str = "") -> InputError:
    return InputError(located([Problem((), came, allowed, todo)], where))


def leaves(values: dict[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every single value with its dotted key: ``("gutter.across", "3 mm")``."""
    for key, value in values.items():
        if isinstance(value, dict):
            yield from leaves(value, f"{prefix}{key}.")
        else:
            yield f"{prefix}{key}", value


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return str(value) if isinstance(value, Length) else value


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
