"""Whole files: read without hanging or following a trap, written in full before they appear."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import stat
from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from io import BufferedReader
from pathlib import Path, PurePath
from typing import BinaryIO, NamedTuple

from guidekit.errors import InputError, MachineError, Problem

#: What `os.fsync` answers where a folder cannot be flushed, or need not be.
_NO_FLUSH = {errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EBADF}

#: What the system answers where there is nothing: no name, no folder, links in a circle.
_NOTHING = {errno.ENOENT, errno.ENOTDIR, errno.ELOOP}

#: The temporary name of a file that is not finished: nobody can guess it.
PART = re.compile(r"\.guidekit-[0-9a-f]{16}\.part")


class Found(NamedTuple):
    """What is at a path: its state, and the SHA-256 of its bytes; none for what has no bytes."""

    state: os.stat_result
    digest: str


def find(path: Path) -> Found | None:
    """What is at a path now; None for nothing. A link is read through, and is a link in `state`."""
    state = state_of(path)
    if state is None:
        return None
    with open_ordinary(path) as file:
        if file is None:
            return Found(state, "")
        if not stat.S_ISLNK(state.st_mode):
            state = os.fstat(file.fileno())  # of the very file that is read
        return Found(state, digest_of(file))


def digest_of(file: BinaryIO) -> str:
    """The SHA-256 of an open file, from where it is read next to its end."""
    return digest_of_pieces(iter(lambda: file.read(1 << 20), b""))


def digest_of_pieces(pieces: Iterable[bytes]) -> str:
    """The SHA-256 of bytes in pieces."""
    digest = sha256()
    for piece in pieces:
        digest.update(piece)
    return digest.hexdigest()


def state_of(path: Path) -> os.stat_result | None:
    """The state of what is at a path itself, be it a link; None for nothing."""
    try:
        return path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None


def is_read_only(state: os.stat_result) -> bool:
    """True for a file that nobody may write to, which its folder may allow to be replaced."""
    return not state.st_mode & 0o222


def names_in(folder: Path) -> set[str]:
    """The names of the files in a folder; none if it is not there. Raises `OSError`."""
    if not folder.is_dir():
        return set()
    return {path.name for path in folder.iterdir() if not path.is_dir()}


@contextlib.contextmanager
def open_ordinary(path: Path, *, follow: bool = True) -> Iterator[BufferedReader | None]:
    """A file to read; None if it is a folder, a device, a pipe or a link that leads nowhere.

    Devices are not even opened, and nothing waits for the other end of a pipe.
    """
    try:
        ordinary = stat.S_ISREG(path.stat(follow_symlinks=follow).st_mode)
    except OSError as error:
        if error.errno not in _NOTHING:
            raise
        ordinary = False
    if not ordinary:
        yield None
        return
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    flags |= 0 if follow else getattr(os, "O_NOFOLLOW", 0)
    with os.fdopen(os.open(path, flags), "rb") as file:
        yield file if stat.S_ISREG(os.fstat(file.fileno()).st_mode) else None


def folders_above(folder: Path, name: str) -> list[Path]:
    """The folders between `folder` and the file of this name, the outermost first."""
    return [folder / above for above in [*PurePath(name).parents][-2::-1]]


def behind_link(folder: Path, name: str) -> bool:
    """True if a folder between `folder` and the file of this name is a link to somewhere else."""
    return any(above.is_symlink() for above in folders_above(folder, name))


def part_of(path: Path) -> Path:
    """A temporary name beside `path`, as `PART` reads it."""
    return path.with_name(f".guidekit-{os.urandom(8).hex()}.part")


def remove_part(path: Path) -> None:
    """Remove what a process that was killed left under a temporary name; no folder and no link."""
    state = state_of(path)
    if state and stat.S_ISREG(state.st_mode):
        path.unlink()


def write_whole(
    path: Path, pieces: Sequence[bytes], part: Path, over: os.stat_result | None = None
) -> bool:
    """Write to `part`, flush, rename to `path`.

    `over` is the state of the file that may be replaced, None if there was none; False if by now
    another one is there, or it has changed. Raises `OSError`.
    """
    made = False
    try:
        with part.open("xb") as file:  # exclusive, so it never opens what is there, nor a link
            made = True
            if over:
                keep_owner(file.fileno(), over)
            file.writelines(pieces)
            flush(file)
        return put_in_place(part, path, over)
    finally:
        if made:
            part.unlink(missing_ok=True)


def put_in_place(part: Path, path: Path, over: os.stat_result | None) -> bool:
    """Rename `part` to `path`; see `write_whole`."""
    if over:
        now = state_of(path)
        if now and identity(now) != identity(over):
            return False
        part.replace(path)
        return True
    try:
        os.link(part, path)  # unlike a rename, this never replaces
    except FileExistsError:
        return False
    except OSError:  # a file system without links
        if state_of(path):
            return False
        part.replace(path)
    return True


def identity(state: os.stat_result) -> tuple[int, ...]:
    """What changes when a file is replaced, or its bytes, owner or permissions change."""
    return (state.st_dev, state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns)


def keep_owner(file: int, state: os.stat_result) -> None:
    """Owner and permissions of an open file as in `state`; the owner where the system lets us."""
    if not hasattr(os, "fchown"):  # Windows, where a file takes them from its folder
        return
    now = os.fstat(file)
    if (now.st_uid, now.st_gid) != (state.st_uid, state.st_gid):
        try:
            os.fchown(file, state.st_uid, state.st_gid)
        except OSError:
            with contextlib.suppress(OSError):
                os.fchown(file, -1, state.st_gid)
    with contextlib.suppress(OSError):  # a file system that knows no permissions
        os.fchmod(file, stat.S_IMODE(state.st_mode))


def close_for_long(file: BinaryIO) -> None:
    """Close a file that is not read again soon: what the memory holds of it makes room for others.

    Otherwise each page of a long run takes new memory, which some systems are slow to give.
    """
    if hasattr(os, "posix_fadvise"):
        with contextlib.suppress(OSError):  # it is but advice
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
    file.close()


def flush(file: BinaryIO) -> None:
    """Bring what was written to an open file to the disk; raises `OSError`."""
    file.flush()
    os.fsync(file.fileno())


def flush_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can; raises `OSError`."""
    try:
        file = os.open(folder, os.O_RDONLY)
    except PermissionError:  # on Windows always, elsewhere in a folder that nobody may list
        return
    try:
        os.fsync(file)
    except OSError as error:
        if error.errno not in _NO_FLUSH:
            raise
    finally:
        os.close(file)


def write_new(path: Path, data: bytes) -> None:
    """Write one file that must not be there yet; raises `InputError` if it is, `MachineError`."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        check_new(path)
        if not write_whole(path, [data], part_of(path)):
            raise InputError(_there_already(path))
        flush_folder(path.parent)
    except OSError as error:
        raise MachineError.from_os(f"writing {path}", error) from None


def check_new(*paths: Path) -> None:
    """Raise `InputError` if any of these is there already, `MachineError`."""
    try:
        there = [path for path in paths if state_of(path)]
    except OSError as error:
        raise MachineError.from_os(f"looking for {paths[0]}", error) from None
    if there:
        raise InputError([_there_already(path) for path in there])


def _there_already(path: Path) -> Problem:
    todo = "Choose another name, or another folder."
    return Problem((), "this file is there already", "a free name", todo, path)
