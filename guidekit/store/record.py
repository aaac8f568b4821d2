"""The record of a folder: which files guidekit wrote there, of what, and the bytes they had."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path, PurePath
from typing import Annotated, Any, ClassVar, Literal, NamedTuple, TypeVar

from pydantic import AfterValidator, ConfigDict, Field, TypeAdapter, ValidationError

from guidekit.errors import InputError, MachineError, Problem
from guidekit.store.files import open_ordinary, state_of

RECORD = ".guidekit.json"
RECORD_PART = f"{RECORD}.part"  # the record that is not finished
VERSION: Literal[2] = 2  # 1 had no infos, and is read as well
LARGEST = 100_000_000  # bytes; 9,999 pages of 30 files each take about 80 MB

MADE_ANEW = "Delete it: the next build makes a new one, and keeps every file that differs."

NO_DIGEST = "0" * 64  # of a drawing of which no record tells what a build wrote, if any did

T = TypeVar("T")
CHECKED = ConfigDict(extra="forbid", strict=True)


def _inside(name: str) -> str:
    path = PurePath(name)
    if path.is_absolute() or path.drive or not path.parts or ".." in path.parts or "\0" in name:
        raise ValueError("a name inside the folder")
    return name


#: The name of a file below the folder, with ``/`` between its parts.
FileName = Annotated[str, AfterValidator(_inside)]


class Made(NamedTuple):
    """What a file was made of: its canvas (a name without ending), format and resolution.

    `info` is the key of what the record says of the canvas, empty for nothing.
    """

    canvas: str
    format: str
    dpi: int
    info: str = ""


@dataclass(frozen=True)
class FileEntry:
    """A file as guidekit wrote it: its bytes, and what it was made of.

    `issue` is the path of the issue's file as seen from the folder; the rest is as in `Made`.
    """

    sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    issue: str
    canvas: str
    format: str
    dpi: int
    info: str = ""

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED

    @property
    def was_written(self) -> bool:
        """True if a build wrote it, as far as anybody knows."""
        return self.sha256 != NO_DIGEST


@dataclass(frozen=True)
class Record:
    """Every file by name, the cautions that the last build gave, what is known of canvases.

    An info is what a file of layers says of itself, for files that other programs saved without it.
    """

    version: Literal[1, 2]
    files: dict[FileName, FileEntry]
    cautions: list[str] = field(default_factory=list)
    infos: dict[str, dict[str, Any]] = field(default_factory=dict)

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED


def read_record(path: Path) -> Record:
    """The record of a folder; an empty one if there is none. Raises `InputError`."""
    data = contents(path)
    return parsed(Record, [data], path)[0] if data is not None else Record(VERSION, {})


def record_text(record: Record) -> bytes:
    """The record as it is stored, names in any script as they are, in a fixed order."""
    data = {
        "version": VERSION,
        "files": {name: vars(record.files[name]) for name in sorted(record.files)},
        "cautions": record.cautions,
        "infos": {key: record.infos[key] for key in sorted(record.infos)},
    }
    out = StringIO()  # `dumps` would hold every word by itself, ten times as much
    json.dump(data, out, indent=0, ensure_ascii=False)
    return out.getvalue().encode()


def contents(path: Path) -> bytes | None:
    """The bytes of a record or journal; None if it is not there. Raises `InputError`."""
    try:
        with open_ordinary(path, follow=False) as file:
            large = file is not None and os.fstat(file.fileno()).st_size > LARGEST
            data = file.read(LARGEST) if file and not large else None
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    if large:
        raise _unreadable(path, "this record of a build is larger than any build makes it")
    if data is None and state_of(path):
        raise _unreadable(path, "this is no file, and stands where the record of a build belongs")
    return data


def parsed(kind: type[T], texts: list[bytes], path: Path, todo: str = MADE_ANEW) -> list[T]:
    """Texts of JSON as values; raises `InputError` for whatever no build has written.

    `todo` says what is to be done about it.
    """
    adapter = TypeAdapter(kind)  # made only where there is something to read, for it takes time
    try:
        return [adapter.validate_json(text) for text in texts]
    except ValidationError:
        raise _unreadable(path, "this record of a build cannot be read", todo) from None


def _unreadable(path: Path, came: str, todo: str = MADE_ANEW) -> InputError:
    allowed = "the record as the last build left it"
    return InputError(Problem((), came, allowed, todo, path))
