"""Things of one kind, found by name; each has an owner, and is made when it is first used."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain
from typing import Any, Generic, TypeVar
from unicodedata import normalize

from guidekit.errors import ClashError, InputError, Key, shown
from guidekit.registry.lookup import unknown
from guidekit.wording import call

Thing = TypeVar("Thing")


@dataclass(frozen=True, eq=False)
class Entry(Generic[Thing]):
    """A thing's name, who brought it, and what makes it; it is made once, at its first use.

    `about` is a line on it for people, where one is known before it is made. `shadows` is what the
    name stands for in a place that counts less. A thing `on_request` is there only for those who
    name it. `written` is what a file says of it, where it is made of a table of one.
    """

    name: str
    owner: str
    make: Callable[[], Thing]
    about: str = ""
    shadows: Entry[Thing] | None = None
    on_request: bool = False
    written: Mapping[str, Any] = field(default_factory=dict)

    @classmethod
    def of(cls, name: str, owner: str, thing: Thing, about: str = "") -> Entry[Thing]:
        """The entry of a thing that is there already."""
        return cls(name, owner, lambda: thing, about)

    @cached_property
    def thing(self) -> Thing:
        """The thing itself; raises what `make` raises."""
        return self.make()


@dataclass(frozen=True, eq=False)
class Registry(Generic[Thing]):
    """All things of one `kind`, in the order in which they are listed.

    `kind` is what people call one of them. `source` is asked for the entries when the first name
    is looked up. `otherwise` is what may be written in place of a name, `lister` the function that
    shows them all to those who came near none.
    """

    kind: str
    source: Callable[[], Iterable[Entry[Thing]]]
    otherwise: str = ""
    lister: str = ""

    @cached_property
    def entries(self) -> dict[str, Entry[Thing]]:
        """Every entry by its name; raises `ClashError` for two of one name, with both owners."""
        found: dict[str, Entry[Thing]] = {}
        for entry in self.source():
            if other := found.get(entry.name):
                came = f"there are two {self.kind}s {shown(entry.name)}"
                todo = "give one of them another name"
                raise ClashError(f"{came}, from {other.owner} and from {entry.owner}: {todo}.")
            found[entry.name] = entry
        return found

    def __contains__(self, name: object) -> bool:
        return name in self.entries

    def __iter__(self) -> Iterator[str]:
        """The names, in order."""
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    def things(self) -> Iterator[Thing]:
        """All of them, in order."""
        return (entry.thing for entry in self.entries.values())

    def wanted(self, names: Collection[str]) -> Iterator[Thing]:
        """All of them, in order, but for those on request that are not among the `names`."""
        for entry in self.entries.values():
            if not entry.on_request or entry.name in names:
                yield entry.thing

    def find(self, name: str, *, key: Key = (), argument: str = "") -> Thing:
        """The thing of this name; see `entry`."""
        return self.entry(name, key=key, argument=argument).thing

    def entry(self, name: str, *, key: Key = (), argument: str = "") -> Entry[Thing]:
        """The entry of this name, in any letter case; raises `InputError` with the nearest name.

        `key` and `argument` say where the name stands, as in `Problem`.
        """
        if name not in self.entries:
            for other in self.entries:
                if folded(other) == folded(name):
                    return self.entries[other]
            problem = unknown(
                self.kind,
                name,
                self.entries,
                key=key,
                argument=argument,
                otherwise=self.otherwise,
            )
            if self.lister and not problem.todo:
                problem = replace(problem, todo=f"{call(self.lister)} shows all {self.kind}s.")
            raise InputError(problem)
        return self.entries[name]

    def adding(self, *entries: Entry[Thing]) -> Registry[Thing]:
        """The same and some more; two of one name are refused when a name is looked up."""
        return replace(self, source=lambda: chain(self.entries.values(), entries))

    def shadowed_by(self, *entries: Entry[Thing]) -> Registry[Thing]:
        """The same behind some more, which count where two have one name."""
        own = {entry.name for entry in entries}

        def source() -> Iterator[Entry[Thing]]:
            for entry in entries:
                yield replace(entry, shadows=self.entries.get(entry.name))
            yield from (entry for entry in self.entries.values() if entry.name not in own)

        return replace(self, source=source)


def folded(name: str) -> str:
    """The same for names that differ only by letter case or by how Unicode spells a letter."""
    return normalize("NFC", name).casefold()
