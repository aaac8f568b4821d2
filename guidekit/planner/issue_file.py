"""The file of an issue: its text read, and replaced by another as a whole, never blindly."""

from __future__ import annotations

from pathlib import Path

from guidekit.errors import GuidekitError, InputError, MachineError, Problem
from guidekit.store.files import flush_folder, is_read_only, part_of, state_of, write_whole
from guidekit.toml.file import LARGEST_FILE

BOM = "\ufeff"
AT_THIS_MOMENT = "The file has been changed elsewhere at this very moment."


class StaleError(GuidekitError):
    """What was to be changed has been changed by somebody else."""


def text_in(path: Path) -> str:
    """The text of a file, without its byte order mark.

    Raises `InputError` if it is no text, `MachineError` if it cannot be read.
    """
    return _marked_text_in(path).removeprefix(BOM)


def refuse_stale(path: Path, seen: str) -> None:
    """Raise `StaleError` if a file has another text than the one that was seen."""
    if text_in(path) != seen:
        raise StaleError(AT_THIS_MOMENT)


def replace_text(path: Path, seen: str, new: str) -> None:
    """Write a new text over the one that was seen; a byte order mark stays.

    Raises `InputError`, `MachineError`, `StaleError`, with the file as it was.
    """
    try:
        state = state_of(path)
        if state is None:
            raise StaleError("The file is gone.")
        old = _marked_text_in(path)
        if old.removeprefix(BOM) != seen:
            raise StaleError(AT_THIS_MOMENT)
        if is_read_only(state):
            raise MachineError(f"{path.name}: this file is read-only. Make it writable.")
        mark = BOM if old.startswith(BOM) else ""
        if not write_whole(path, [(mark + new).encode()], part_of(path), state):
            raise StaleError(AT_THIS_MOMENT)
        flush_folder(path.parent)
    except OSError as error:
        raise MachineError.from_os(f"writing {path.name}", error) from None


def _marked_text_in(path: Path) -> str:
    try:
        if not path.is_file():
            came, todo = "there is no such file", "Check the name, or put the file back."
            raise InputError(Problem((), came, todo=todo, file=path))
        if path.stat().st_size > LARGEST_FILE:
            raise InputError(Problem((), "this file is too large", file=path))
        return path.read_bytes().decode()
    except OSError as error:
        raise MachineError.from_os(f"reading {path.name}", error) from None
    except UnicodeDecodeError:
        raise InputError(Problem((), "this file is not UTF-8", file=path)) from None
