"""Many files renamed together with a change of the issue's file: as a whole, or not at all.

1. A log with everything that is to happen is brought to the disk.
2. Every file gets a temporary name.
3. The issue's file is replaced by the new one; where it stays as it is, the log is replaced by one
   that says so. This is the moment that counts.
4. Every file gets its new name, the record follows, and the log becomes a line of what was done.

After a death before 3 the files get their old names back, after it their new ones, whichever
command comes next; the issue's file says which of the two it is, or the log. What was done is
undone line by line, the last one first.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path, PurePath
from typing import Annotated, ClassVar, Literal

from pydantic import AfterValidator, ConfigDict

from guidekit.errors import MachineError
from guidekit.store.before import Before, Replacement
from guidekit.store.files import PART, flush_folder, part_of, remove_part, state_of, write_whole
from guidekit.store.ledger import Ledger
from guidekit.store.record import CHECKED, MADE_ANEW, FileEntry, FileName, contents, parsed

VERSION: Literal[1] = 1
LOG = ".guidekit.moving"
DONE = ".guidekit.moved"
STILL_HELD = (
    "Pages were being moved: give the files here that are called .guidekit-….held their names "
    "again, and delete it then."
)
MOST = 20_000_000  # bytes of what was done; the oldest lines go first


def _temporary(name: str) -> str:
    if not PART.fullmatch(PurePath(name).name):
        raise ValueError("a temporary name")
    return name


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
    stood under the old ones. `canvases` have the new name of each, None for one that has none any
    more; `replaced` is what refreshes did, under the new names. One that `undoes` takes back what
    was done last, and leaves so many lines; `turned` is the moment that counts where the texts are
    the same.
    """

    version: Literal[1]
    issue: str
    part: Annotated[str, AfterValidator(_temporary)]
    old_text: str
    new_text: str
    steps: list[Rename]
    entries: dict[FileName, FileEntry]
    gone: dict[FileName, FileEntry]
    canvases: dict[str, str | None] = field(default_factory=dict)
    replaced: list[Replacement] = field(default_factory=list)
    undoes: int | None = None
    turned: bool = False

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED


def _held_name(new: str) -> str:
    """A temporary name that nobody can guess, where the file will go: what fails, fails in time."""
    return PurePath(new).with_name(f".guidekit-{os.urandom(8).hex()}.held").as_posix()


def renames_of(
    ledger: Ledger,
    issue: str,
    texts: tuple[str, str],
    files: Sequence[tuple[str, str]],
    canvases: Mapping[str, str | None],
    *,
    undo: bool,
) -> Renames:
    """All that is to happen for these files and the old and new text of the issue's file.

    Files that come back from where they are in no record have the entries that they had. With
    `undo` it is what was done last that is taken back. Raises `InputError`.
    """
    done = _read(ledger.folder / DONE)
    had = {
        step.new: (step.old, line.gone[step.old])
        for line in done
        for step in line.steps
        if step.old in line.gone
    }
    gone: dict[str, FileEntry] = {}
    entries: dict[str, FileEntry] = {}
    steps = [Rename(old, _held_name(new), new) for old, new in files]
    for step in steps:
        for name, entry in ledger.files.items():
            if name == step.old or name.startswith(f"{step.old}/"):
                gone[name] = entry
                if step.old.startswith(entry.canvas) and "/" not in step.new:
                    new = step.new + name.removeprefix(step.old)
                    entries[new] = _moved(entry, step.old, step.new)
        if step.old not in ledger.files and step.old in had:
            old, entry = had[step.old]
            entries[step.new] = _moved(entry, old, step.new)
    part = Path(issue).with_name(part_of(Path("issue")).name).as_posix()
    return Renames(
        VERSION,
        issue,
        part,
        *texts,
        steps,
        entries,
        gone,
        dict(canvases),
        Before(ledger).renamed(dict(files)),
        len(done) - 1 if undo else None,
    )


def _moved(entry: FileEntry, old: str, new: str) -> FileEntry:
    """The entry of a file that gets another name."""
    return replace(entry, canvas=new.removesuffix(old.removeprefix(entry.canvas)))


def rename_all(ledger: Ledger, renames: Renames) -> None:
    """Do all of it in a folder that is locked. Raises `MachineError`; then nothing has happened."""
    folder = ledger.folder
    issue = folder / renames.issue
    changed = MachineError(f"{issue}: this file has changed just now. Run it again.")
    try:
        over = state_of(issue)
        if over is None or issue.read_bytes() != renames.old_text.encode():
            raise changed
        _write(folder / LOG, [renames])
        for step in renames.steps:
            (folder / step.held).parent.mkdir(exist_ok=True)
            (folder / step.old).rename(folder / step.held)
        flush_folder(folder)
        if renames.old_text == renames.new_text:
            _write(folder / LOG, [replace(renames, turned=True)])
        elif not write_whole(issue, [renames.new_text.encode()], folder / renames.part, over):
            finish(ledger)
            raise changed
        flush_folder(issue.parent)
    except OSError as error:
        finish(ledger)
        raise _not_moved(folder, error) from None
    finish(ledger)


def finish(ledger: Ledger) -> None:
    """Bring to an end what was begun, if anything was; the folder must be locked.

    Raises `InputError` for a log that no move has written, `MachineError`.
    """
    folder = ledger.folder
    try:
        for name in (LOG, DONE):
            remove_part(_part_of(folder / name))
        renames = _last(folder / LOG)
        if not renames:
            return
        forward = renames.turned or (
            renames.old_text != renames.new_text
            and (folder / renames.issue).read_bytes() == renames.new_text.encode()
        )
        remove_part(folder / renames.part)
        for step in renames.steps:
            if state_of(folder / step.held):
                _put(folder / step.held, folder / (step.new if forward else step.old))
        if forward:
            for name in renames.gone:
                ledger.files.pop(name, None)
            ledger.files |= renames.entries
            if renames.replaced:
                Before(ledger).note(renames.replaced)
            ledger.close()
            _note(folder, replace(renames, replaced=[]))
        (folder / LOG).unlink()
        flush_folder(folder)
    except OSError as error:
        raise _not_moved(folder, error) from None


def last_done(folder: Path) -> Renames | None:
    """What was done last and is not undone; None for nothing. Raises `InputError`."""
    return _last(folder / DONE)


def _note(folder: Path, renames: Renames) -> None:
    """Add to what was done, or take away what is undone; to do it twice changes nothing."""
    done = _read(folder / DONE)
    if renames.undoes is not None:
        _write(folder / DONE, done[: renames.undoes])
    elif renames not in done:
        _write(folder / DONE, [*done, renames])


def _last(path: Path) -> Renames | None:
    return next(reversed(_read(path)), None)


def _read(path: Path) -> list[Renames]:
    data, todo = contents(path), STILL_HELD if path.name == LOG else MADE_ANEW
    return parsed(Renames, data.splitlines(), path, todo) if data else []


def _write(path: Path, lines: Sequence[Renames]) -> None:
    told = [json.dumps(asdict(line), ensure_ascii=False).encode() + b"\n" for line in lines]
    while len(told) > 1 and sum(map(len, told)) > MOST:
        del told[0]
    part = _part_of(path)
    part.unlink(missing_ok=True)
    write_whole(path, told, part, state_of(path))
    flush_folder(path.parent)


def _not_moved(folder: Path, error: OSError) -> MachineError:
    place = error.filename2 or error.filename or folder
    return MachineError.from_os(f"moving pages, {place}", error)


def _part_of(path: Path) -> Path:
    """The temporary name of a log, always the same."""
    return path.with_name(f"{path.name}.part")


def _put(held: Path, path: Path) -> None:
    """Give a file its name; where another has come meanwhile, the nearest one that is free."""
    name, number = PurePath(path.name), 1
    while state_of(path):
        path = path.with_name(f"{name.stem} moved {number}{name.suffix}")
        number += 1
    held.rename(path)
