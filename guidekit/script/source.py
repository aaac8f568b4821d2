"""A script's file as lines of text: what cannot be read in it is told by line, the rest is read."""

from __future__ import annotations

from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from pathlib import Path

from guidekit.errors import InputError, MachineError, Problem
from guidekit.script.script import Remark
from guidekit.store.files import open_ordinary

LARGEST = 4_000_000  # bytes; a script of 200 pages has a twentieth of that
ALLOWED = "a text file in UTF-8"


def lines_of(path: Path) -> tuple[list[str], list[Remark]]:
    """The lines, and remarks on those with letters that cannot be read.

    UTF-8, or UTF-16 with its mark. Raises `InputError` for what is no text, `MachineError`.
    """
    try:
        with open_ordinary(path) as file:
            data = file.read(LARGEST + 1) if file else None
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    if data is None:
        raise InputError(Problem((), "there is no such file", "a script", file=path))
    if len(data) > LARGEST:
        came = f"this file has more than {LARGEST:,} bytes"
        raise InputError(Problem((), came, "a script, or a part of one", file=path))
    if data.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
        text = data.decode("utf-16", "replace")
    elif b"\0" in data:
        raise InputError(Problem((), "this is no text", ALLOWED, "Save it as text.", path))
    else:
        text = data.removeprefix(BOM_UTF8).decode("utf-8", "replace")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    bad = [number for number, line in enumerate(lines, 1) if "�" in line]
    if 4 * len(bad) > len(lines):
        came = "most lines of this file have letters that are not in UTF-8"
        todo = "Save it as UTF-8 in the app that wrote it."
        raise InputError(Problem((), came, ALLOWED, todo, path, line=bad[0]))
    return lines, [Remark(n, f"letters that are not in UTF-8: {shown(lines[n - 1])}") for n in bad]


def shown(line: str) -> str:
    """The beginning of a line, for a remark."""
    line = " ".join(line.split())
    return line if len(line) <= 60 else f"{line[:59]}…"
