"""Many files renamed together with a change of the issue's file: as a whole, or not at all.

1. A log with everything that is to happen is brought to the disk.
2. Every file gets a temporary name.
3. The issue's file is replaced by the new one. This is the moment that counts.
4. Every file gets its new name, the record follows, and the log becomes that of the last time.

After a death before 3 the files get their old names back, after it their new ones, whichever
command comes next; the issue's file says which of the two it is.
"""

from __future__ import annotations

import json
import os
from dataclasses import asdict, dataclass, replace
from pathlib import Path, PurePath
from typing import ClassVar, Literal

from pydantic import ConfigDict

from guidekit.errors import MachineError
from guidekit.store.files import flush_folder, part_of, state_of, write_whole
from guidekit.store.ledger import Ledger
from guidekit.store.record import CHECKED, FileEntry, FileName, contents, parsed

VERSION: Literal[1] = 1
LOG = ".guidekit.moving"
LAST = ".guidekit.moved"


@dataclass(frozen=True)
class Rename:
    """One file or folder: its old name, the temporary one, the new one."""

    old: FileName
    held: FileName
    new: FileName

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED


@dataclass(frozen=True)
class Renames:
    """All that is to happen. `issue` is the path of its file from the folder, `part` its new text
    until it has its name; `entries` are those of the record under their new names, `gone` what
    stood under the old ones.
    """

    version: Literal[1]
    issue: str
    part: str
    old_text: str
    new_text: str
    steps: list[Rename]
    entries: dict[FileName, FileEntry]
    gone: dict[FileName, FileEntry]

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED


def held_name() -> str:
    """A temporary name that nobody can guess."""
    return f".guidekit-{os.urandom(8).hex()}.held"


def renames_of(
    ledger: Ledger, issue: str, steps: list[Rename], texts: tuple[str, str], back: Renames | None
) -> Renames:
    """All that is to happen for these steps and the old and new text of the issue's file.

    Files that come `back` from where they are in no record have the entries that they had.
    """
    gone: dict[str, FileEntry] = {}
    entries: dict[str, FileEntry] = {}
    for step in steps:
        for name, entry in ledger.files.items():
            if name == step.old or name.startswith(f"{step.old}/"):
                gone[name] = entry
                if step.old.startswith(entry.canvas) and "/" not in step.new:
                    canvas = step.new.removesuffix(step.old.removeprefix(entry.canvas))
                    new = step.new + name.removeprefix(step.old)
                    entries[new] = replace(entry, canvas=canvas)
        if back and step.new in back.gone and step.old not in ledger.files:
            entries[step.new] = back.gone[step.new]
    part = Path(issue).with_name(part_of(Path("issue")).name).as_posix()
    return Renames(VERSION, issue, part, *texts, steps, entries, gone)


def rename_all(ledger: Ledger, renames: Renames) -> None:
    """Do all of it in a folder that is locked. Raises `MachineError`; then nothing has happened."""
    folder = ledger.folder
    issue = folder / renames.issue
    text = json.dumps(asdict(renames), ensure_ascii=False).encode()
    changed = MachineError(f"{issue}: this file has changed just now. Run it again.")
    try:
        over = state_of(issue)
        if over is None or issue.read_bytes() != renames.old_text.encode():
            raise changed
        part = folder / f"{LOG}.part"
        part.unlink(missing_ok=True)
        write_whole(folder / LOG, [text], part)
        flush_folder(folder)
        for step in renames.steps:
            (folder / step.old).rename(folder / step.held)
        flush_folder(folder)
        if not write_whole(issue, [renames.new_text.encode()], folder / renames.part, over):
            finish(ledger)
            raise changed
        flush_folder(issue.parent)
    except OSError as error:
        finish(ledger)
        raise MachineError.from_os("moving pages", error) from None
    finish(ledger)


def finish(ledger: Ledger) -> None:
    """Bring to an end what was begun, if anything was; the folder must be locked.

    Raises `InputError` for a log that no move has written, `MachineError`.
    """
    folder = ledger.folder
    renames = read_renames(folder / LOG)
    if renames is None:
        return
    try:
        forward = (folder / renames.issue).read_bytes() == renames.new_text.encode()
        (folder / renames.part).unlink(missing_ok=True)
        for step in renames.steps:
            if state_of(folder / step.held):
                _put(folder / step.held, folder / (step.new if forward else step.old))
        if forward:
            for name in renames.gone:
                ledger.files.pop(name, None)
            ledger.files |= renames.entries
            ledger.close()
            (folder / LOG).replace(folder / LAST)
        else:
            (folder / LOG).unlink()
        flush_folder(folder)
    except OSError as error:
        raise MachineError.from_os("moving pages", error) from None


def read_renames(path: Path) -> Renames | None:
    """A log; None if there is none. Raises `InputError`."""
    data = contents(path)
    return None if data is None else parsed(Renames, [data], path)[0]


def _put(held: Path, path: Path) -> None:
    """Give a file its name; where another has come meanwhile, the nearest one that is free."""
    path.parent.mkdir(exist_ok=True)
    name, number = PurePath(path.name), 1
    while state_of(path):
        path = path.with_name(f"{name.stem} moved {number}{name.suffix}")
        number += 1
    held.rename(path)
