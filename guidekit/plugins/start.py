"""A new plug-in: the example that comes with guidekit, under a name of its own."""

from __future__ import annotations

import keyword
import sys
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from guidekit.errors import InputError, Problem, shown
from guidekit.store.files import state_of, write_new

EXAMPLE = "postcards"  # its name, which stands in its files and in theirs
KINDS = (".py", ".toml", ".md")


def example_folder() -> Path:
    """The example: in a wheel inside the package, else in the checkout."""
    package = Path(__file__).parents[1]
    inside = package / "example_plugin"
    return inside if inside.is_dir() else package.parent / "examples" / EXAMPLE


def new_plugin(name: str, folder: Path) -> tuple[str, ...]:
    """Write a complete package called `name` into a new `folder`; its files by name.

    Raises `InputError` for a name that no package of Python can have, or a folder that is there.
    """
    taken = keyword.iskeyword(name) or name in {*sys.stdlib_module_names, "guidekit"}
    if not (name.isascii() and name.isidentifier() and name == name.lower()) or taken:
        came = f"{shown(name)} is not a name for a package of its own"
        allowed = "small letters, digits and _, as in ink_tools"
        raise InputError(Problem((), came, allowed, argument="name"))
    if state_of(folder):
        todo = "Choose another name, or another folder."
        raise InputError(Problem((), "this is there already", "a new folder", todo, folder))
    written = dict(_files(name))
    for file, text in written.items():
        write_new(folder / file, text.encode())
    return tuple(written)


def _files(name: str) -> Iterator[tuple[str, str]]:
    """The files of the example and what is in them, with the new name in place of its own."""
    example = example_folder()
    for path in sorted(example.rglob("*")):
        if path.suffix in KINDS and path.is_file():
            file = PurePosixPath(path.relative_to(example).as_posix())
            yield str(file).replace(EXAMPLE, name), path.read_text("utf-8").replace(EXAMPLE, name)
