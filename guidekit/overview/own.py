"""Files that may be written anew: each says of itself what bytes it had when guidekit wrote it.

One that was changed since, say a picture that was drawn on, is never replaced.
"""

from __future__ import annotations

import re
from hashlib import sha256
from pathlib import Path

from guidekit.errors import InputError, MachineError, Problem
from guidekit.store.files import flush_folder, open_ordinary, part_of, state_of, write_whole
from guidekit.writers.png.encode import chunk, text

_MARK = re.compile(rb"guidekit picture ([0-9a-f]{64})")
LARGEST = 100_000_000  # bytes
WORD = "Comment"  # a keyword of section 11.3.3.1
_END = len(chunk(b"IEND", b""))


def signed(data: bytes, ending: str) -> bytes:
    """The file with a mark near its end: the digest of all that stands before it."""
    if ending == ".png":  # in a text chunk before the last one, as section 11.3.3.4 has it
        pixels, end = data[:-_END], data[-_END:]
        before = pixels + text(WORD, " " * len(_mark_of(b"")))[: 8 + len(WORD) + 5]
        return pixels + text(WORD, _mark_of(before).decode()) + end
    before, after = (data + b"<!-- ", b" -->\n") if ending == ".html" else (data + b"%", b"\n")
    return before + _mark_of(before) + after


def is_own(data: bytes) -> bool:
    """True if a file has its mark and, before it, not a byte that differs."""
    found = [*_MARK.finditer(data)][-1:]
    return any(sha256(data[: mark.start()]).hexdigest().encode() == mark[1] for mark in found)


def write_own(path: Path, data: bytes) -> None:
    """Write a file that was `signed`; one that is there must be such a file too.

    Raises `InputError` for any other, `MachineError`.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        there = state_of(path)
        check_own(path)
        if not write_whole(path, [data], part_of(path), there):
            came = "this file was written by somebody else just now"
            raise InputError(Problem((), came, "a free name", "Choose another name.", path))
        flush_folder(path.parent)
    except OSError as error:
        raise MachineError.from_os(f"writing {path}", error) from None


def check_own(*paths: Path) -> None:
    """Raise `InputError` if any of these is there and not as guidekit wrote it, `MachineError`."""
    try:
        others = [path for path in paths if state_of(path) and not _may_go(path)]
    except OSError as error:
        raise MachineError.from_os(f"looking for {paths[0]}", error) from None
    if others:
        came = "this file is there already, and it is not as guidekit wrote it"
        todo = "Choose another name."
        raise InputError(Problem((), came, "a free name", todo, path) for path in others)


def _may_go(path: Path) -> bool:
    with open_ordinary(path, follow=False) as file:
        return file is not None and is_own(file.read(LARGEST))


def _mark_of(before: bytes) -> bytes:
    return b"guidekit picture " + sha256(before).hexdigest().encode()
