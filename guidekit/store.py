"""The folder of a build: files appear whole or not at all, and a drawing is never lost.

A record beside the pages holds the SHA-256 of every file as it was written. A file that is on disk
exactly as recorded is nobody's drawing and may be replaced; any other stays as it is.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterator, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Literal

from guidekit.errors import InputError, MachineError, Problem

RECORD = ".guidekit.json"
PART = ".guidekit-part"  # the end of the name of a file that is not finished

#: What became of a file: written now; there already, byte for byte; drawn on and still made by the
#: same format; drawn on (or not ours) while its format has changed, so that the new canvas is not
#: written.
Outcome = Literal["written", "unchanged", "drawn", "kept"]


class Store:
    """One folder of pages with its record."""

    def __init__(self, folder: Path):
        self.folder = folder
        self._record = _read_record(folder / RECORD)
        self._changed = False

    @contextlib.contextmanager
    def opened(self) -> Iterator[Store]:
        """The folder, made if need be; the record is saved at the end, however the end comes."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            for left_over in (*self.folder.glob(f".*{PART}"), *self.folder.glob(f"*/.*{PART}")):
                left_over.unlink()
        except FileExistsError:
            allowed = "a folder, there or still to be made"
            todo = f"Name {allowed}."
            raise InputError(Problem((), "this is a file", allowed, todo, self.folder)) from None
        except OSError as error:
            raise MachineError.from_os(f"opening the folder {self.folder}", error) from None
        try:
            yield self
        finally:
            self._save_record()

    def put(self, name: str, pieces: Sequence[bytes]) -> Outcome:
        """Write a file unless that would cost a drawing; raises `MachineError`."""
        path = self.folder / name
        digest = sha256()
        for piece in pieces:
            digest.update(piece)
        new, known = digest.hexdigest(), self._record.get(name)
        try:
            seen = _seen(path)
            if seen:
                old = _digest_of(path)
                if old == new:
                    self._note(name, new)
                    return "unchanged"
                if known is None or old != known or path.is_symlink():
                    return "drawn" if known == new else "kept"
            if not _write(path, pieces, seen):
                return "kept"
        except OSError as error:
            raise MachineError.from_os(f"writing {path}", error) from None
        self._note(name, new)
        return "written"

    def _note(self, name: str, digest: str) -> None:
        if self._record.get(name) != digest:
            self._record[name] = digest
            self._changed = True

    def _save_record(self) -> None:
        if self._changed:
            record = self.folder / RECORD
            text = json.dumps({"files": self._record}, indent=0, sort_keys=True, ensure_ascii=False)
            try:
                _write(record, [text.encode()], _seen(record))
            except OSError as error:
                raise MachineError.from_os(f"writing {record}", error) from None


def write_new(path: Path, data: bytes) -> None:
    """Write one file that must not be there yet; raises `InputError` if it is, `MachineError`."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if not _seen(path) and _write(path, [data], None):
            return
    except OSError as error:
        raise MachineError.from_os(f"writing {path}", error) from None
    todo = "Choose another name, or another folder."
    raise InputError(Problem((), "this file is there already", "a free name", todo, path))


def _seen(path: Path) -> os.stat_result | None:
    """What is at a path now; None for nothing."""
    try:
        return path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None


def _write(path: Path, pieces: Sequence[bytes], seen: os.stat_result | None) -> bool:
    """Write to a temporary name, flush, rename.

    `seen` is the file that may be replaced, None if there was none; False if by now there is
    another one, or it has changed.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}{PART}")
    try:
        with part.open("wb") as file:
            file.writelines(pieces)
            file.flush()
            os.fsync(file.fileno())
        if seen:
            now = _seen(path)
            if now and (now.st_mtime_ns, now.st_size) != (seen.st_mtime_ns, seen.st_size):
                return False
            part.replace(path)
            return True
        try:
            os.link(part, path)  # unlike a rename, this never replaces
        except FileExistsError:
            return False
        except OSError:  # a file system without links
            if path.exists():
                return False
            part.replace(path)
        return True
    finally:
        part.unlink(missing_ok=True)


def _digest_of(path: Path) -> str:
    if not path.is_file():  # a folder, a link that leads nowhere
        return ""
    with path.open("rb") as file:
        digest = sha256()
        while block := file.read(1 << 20):
            digest.update(block)
    return digest.hexdigest()


def _read_record(path: Path) -> dict[str, str]:
    try:
        files = json.loads(path.read_text("utf-8"))["files"]
        if all(isinstance(name, str) and isinstance(d, str) for name, d in files.items()):
            return dict(files)
    except (FileNotFoundError, NotADirectoryError):
        return {}
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        pass
    came, allowed = "this record of a build cannot be read", "the record as the last build left it"
    todo = "Delete it: the next build makes a new one, and keeps every file that differs."
    raise InputError(Problem((), came, allowed, todo, path))
