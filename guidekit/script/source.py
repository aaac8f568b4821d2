"""A script's file as lines of text: what cannot be read in it is told by line, the rest is read."""

from __future__ import annotations

import re
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from pathlib import Path

from guidekit.errors import InputError, MachineError, Problem
from guidekit.script.script import Remark
from guidekit.store.files import open_ordinary

LARGEST = 4_000_000  # bytes; a script of 200 pages has a twentieth of that
ALLOWED = "a text file in UTF-8"
UTF16 = (BOM_UTF16_LE, BOM_UTF16_BE)
NO_TEXT = (b"{\\rtf", b"%PDF-", b"PK\x03\x04")  # of word processors
_BEYOND = re.compile(r"[^\W\d_a-zA-Z]")  # a letter beyond ASCII
#: Encodings by name; of what a text in them has some for every so many letters beyond ASCII.
GUESSES = (
    ("Windows-1252", "cp1252", re.compile("[a-zA-Z]{4}"), 2),
    ("Shift JIS", "cp932", re.compile("[ぁ-んァ-ン]"), 4),
)


def lines_of(path: Path) -> tuple[list[str], list[Remark]]:
    """The lines, and remarks on those with letters that cannot be read.

    UTF-8, UTF-16 with its mark, or with a remark what Windows saves in its stead. Raises
    `InputError` for what is no text, `MachineError`.
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
    if data.startswith(NO_TEXT) or (b"\0" in data and not data.startswith(UTF16)):
        raise InputError(Problem((), "this is no text", ALLOWED, "Save it as plain text.", path))
    text, said = _decoded(data)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    odd = [number for number, line in enumerate(lines, 1) if not line.isascii()]
    if said and odd:
        return lines, [Remark(odd[0], f"{said}: {beginning(lines[odd[0] - 1])}")]
    bad = [number for number in odd if "�" in lines[number - 1]]
    if 4 * len(bad) > len(lines):
        came = "most lines of this file have letters that are not in UTF-8"
        todo = "Save it as UTF-8 in the app that wrote it."
        raise InputError(Problem((), came, ALLOWED, todo, path, line=bad[0]))
    return lines, [
        Remark(n, f"letters that are not in UTF-8: {beginning(lines[n - 1])}") for n in bad
    ]


def _decoded(data: bytes) -> tuple[str, str]:
    """The text, and what to say of it where its encoding is a guess; � for what cannot be read.

    What is not UTF-8 is taken as Windows saves text in Western Europe, where few letters are beyond
    ASCII, or in Japan, where many are kana.
    """
    if data.startswith(UTF16):
        return data.decode("utf-16", "replace"), ""
    text = data.removeprefix(BOM_UTF8).decode("utf-8", "replace")
    if text.count("�") <= len(_BEYOND.findall(text)):
        return text, ""
    for name, code, likely, many in GUESSES:
        try:
            found = data.decode(code)
        except UnicodeDecodeError:
            continue
        if many * len(likely.findall(found)) > len(_BEYOND.findall(found)):
            return found, f"not in UTF-8, and read as {name}; look whether its letters are right"
    return text, ""


def beginning(line: str) -> str:
    """The beginning of a line, for a remark."""
    line = " ".join(line.split())
    return line if len(line) <= 60 else f"{line[:59]}…"
