"""Who imports what in a package, and which words stand where, read from its source alone.

Modules have dotted names below the package: ``plane.box``, ``plane`` for its ``__init__.py`` and
``__init__`` for the package's own. A *room* is a top-level name: a folder or a single module.
A room can be read as a package of its own, whose rooms are its floors.
"""

import ast
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

TOP = "__init__"  # the package's own module
MEANT = {TOP, "plugins.contract"}  # modules that are there to pass names on
_IMPORTERS = {"import_module", "__import__", "find_spec"}


@dataclass(frozen=True)
class Import:
    """A module of the package that is used in a file, and the name taken from it, if any."""

    module: str
    name: str = ""


def room_of(module: str) -> str:
    """The top-level name in which a module lies."""
    return module.partition(".")[0]


@dataclass(frozen=True)
class PackageSource:
    """The modules of a package, by dotted name, and what can be said against them.

    `inside` is the package in which it lies, if it is the room of another.
    """

    package: Path
    inside: str = ""

    @cached_property
    def name(self) -> str:
        """The package as imports name it."""
        return f"{self.inside}.{self.package.name}".removeprefix(".")

    @cached_property
    def files(self) -> dict[str, Path]:
        """Every module with its file, sorted by name."""
        found = {}
        for path in self.package.rglob("*.py"):
            parts = path.relative_to(self.package).with_suffix("").parts
            found[".".join(parts[:-1] if parts[1:] and parts[-1] == TOP else parts)] = path
        return dict(sorted(found.items()))

    @cached_property
    def trees(self) -> dict[str, ast.Module]:
        """Every module as it is parsed."""
        return {name: ast.parse(path.read_text("utf-8")) for name, path in self.files.items()}

    @cached_property
    def rooms(self) -> set[str]:
        """Every top-level name that holds a module, folders without ``__init__.py`` as well."""
        return {room_of(module) for module in self.files}

    @cached_property
    def imports(self) -> dict[str, set[Import]]:
        """What every module imports, at its top, in a function or by a string that names it."""
        return {name: set(self._imports(tree)) for name, tree in self.trees.items()}

    @cached_property
    def relative(self) -> list[str]:
        """The modules with a relative import, which nothing here follows."""
        return [
            name
            for name, tree in self.trees.items()
            for node in ast.walk(tree)
            if (isinstance(node, ast.ImportFrom) and node.level)
            or (isinstance(node, ast.Call) and _imported(node).startswith("."))
        ]

    @cached_property
    def computed(self) -> set[str]:
        """The modules that import what is named only at run time, and not by a plain string."""
        return {
            name
            for name, tree in self.trees.items()
            for node in ast.walk(tree)
            if isinstance(node, ast.Call) and _called(node) in _IMPORTERS and not _imported(node)
        }

    def without_row(self, rows: Mapping[str, Collection[str]]) -> set[str]:
        """The rooms that have no row, and the rows that have no room."""
        return self.rooms ^ set(rows)

    def not_allowed(self, rows: Mapping[str, Collection[str]]) -> list[str]:
        """The imports between rooms that no row allows."""
        return [
            f"{module} imports from {room}"
            for module, found in self.imports.items()
            for room in sorted({room_of(use.module) for use in found} - {room_of(module)})
            if room not in rows.get(room_of(module), ())
        ]

    def lines_with(self, room: str, words: Collection[str]) -> list[str]:
        """The lines in a room where one of these words stands, also as a part of a longer name."""
        any_case, capital = "|".join(words), "|".join(map(str.capitalize, words))
        alone = rf"(?<![A-Za-z])(?i:{any_case})(?i:s|es)?(?![A-Za-z])"
        pattern = re.compile(rf"{alone}|(?:{capital})(?:s|es)?(?![a-z]|Box\b)")  # PDF's TrimBox
        return [
            f"{module}:{number} {found[0]}"
            for module, path in self.files.items()
            if room_of(module) == room
            for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
            if (found := pattern.search(line))
        ]

    def passed_on(self) -> Iterator[tuple[str, str, str]]:
        """User, module and name, where the module has the name from another room itself.

        The user is the module itself where it offers the name: in ``__all__`` or by ``as`` itself.
        The public names of the package, and those promised to plug-ins, are meant to be such and
        left out.
        """
        for user, found in self.imports.items():
            for use in found:
                abroad = room_of(use.module) not in (TOP, room_of(user))
                if abroad and self._is_from_elsewhere(use):
                    yield user, use.module, use.name
        for module, tree in self.trees.items():
            for name in _offered(tree):
                if module not in MEANT and self._is_from_elsewhere(Import(module, name)):
                    yield module, module, name

    def _is_from_elsewhere(self, use: Import) -> bool:
        origin: Import | None = use
        seen: set[Import] = set()
        while origin and origin not in seen:
            seen.add(origin)
            origin = self._bound.get(origin.module, {}).get(origin.name)
        return any(room_of(one.module) != room_of(use.module) for one in seen)

    @cached_property
    def _bound(self) -> dict[str, dict[str, Import]]:
        """For every module the names that it has from elsewhere."""
        return {name: dict(self._bindings(tree)) for name, tree in self.trees.items()}

    def _bindings(self, tree: ast.Module) -> Iterator[tuple[str, Import]]:
        known = dict(self._names(tree))
        yield from known.items()
        for node in tree.body:
            if isinstance(node, ast.Assign) and (use := self._used(node.value, known)):
                same = [t for t in node.targets if ast.unparse(t) == use.name]
                yield from ((use.name, use) for _ in same)

    def _names(self, tree: ast.AST) -> Iterator[tuple[str, Import]]:
        """The local names that imports anywhere in a module make."""
        for node in ast.walk(tree):
            if isinstance(node, ast.Import):
                for alias in node.names:
                    if alias.asname and (use := self._resolved(alias.name)):
                        yield alias.asname, use
            elif isinstance(node, ast.ImportFrom) and not node.level:
                for alias in node.names:
                    if use := self._resolved(f"{node.module}.{alias.name}"):
                        yield alias.asname or alias.name, use

    def _imports(self, tree: ast.Module) -> Iterator[Import]:
        known = dict(self._names(tree))
        yield from known.values()
        prose = set(_docstrings(tree))
        for node in ast.walk(tree):
            if isinstance(node, ast.Import):
                yield from filter(None, (self._resolved(alias.name) for alias in node.names))
            elif isinstance(node, ast.Attribute) and (use := self._used(node, known)):
                yield use
            elif isinstance(node, ast.Constant) and (use := self._named(node.value)):
                yield from [use] * (node not in prose)

    def _used(self, node: ast.expr, known: dict[str, Import]) -> Import | None:
        """What ``name`` or ``module.name`` stands for, where that is something of the package."""
        if isinstance(node, ast.Name):
            return known.get(node.id)
        dotted = ast.unparse(node) if isinstance(node, ast.Attribute) else ""
        head, _, rest = dotted.partition(".")
        if head in known and not known[head].name:
            return self._resolved(f"{self.name}.{known[head].module}.{rest}")
        return self._resolved(dotted)

    def _named(self, text: object) -> Import | None:
        """What ``"package.module"`` or ``"package.module:name"`` stands for."""
        if not isinstance(text, str) or not re.fullmatch(r"\w+(\.\w+)+(:\w+)?", text):
            return None
        return self._resolved(text.replace(":", "."))

    def _resolved(self, dotted: str) -> Import | None:
        """The module of the package in a dotted name, and the name in it that comes next."""
        if not f"{dotted}.".startswith(f"{self.name}."):
            return None
        parts = dotted.split(".")[self.name.count(".") + 1 :]
        for count in range(len(parts), 0, -1):
            module = ".".join(parts[:count])
            if module in self.files or self.package.joinpath(*parts[:count]).is_dir():
                return Import(module, "".join(parts[count : count + 1]))
        return Import(TOP, "".join(parts[:1]))


def _called(node: ast.Call) -> str:
    return node.func.attr if isinstance(node.func, ast.Attribute) else ast.unparse(node.func)


def _imported(node: ast.Call) -> str:
    """The module that a call imports by a plain string, else nothing."""
    first = node.args[0] if node.args else None
    if isinstance(first, ast.Constant) and _called(node) in _IMPORTERS:
        return str(first.value)
    return ""


def _docstrings(tree: ast.Module) -> Iterator[ast.Constant]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield node.value


def _offered(tree: ast.Module) -> Iterator[str]:
    """The names that a module offers as its own: in ``__all__``, or imported as themselves."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            yield from (alias.name for alias in node.names if alias.asname == alias.name)
        elif isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            inside = (
                inner.value for inner in ast.walk(node.value) if isinstance(inner, ast.Constant)
            )
            yield from map(str, inside)
