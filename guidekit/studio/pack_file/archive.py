"""A pack is one file: a ZIP archive by ISO/IEC 21320-1, looked at before anything in it is used.

The standard allows methods 0 and 8 alone, no encryption, no parts on other disks, and 4.5 as the
version needed. What is written here is stored (method 0) with a fixed date, so that the same pack
has the same bytes everywhere. Nothing is ever unpacked to the disk: files are read from the pack.
"""

from __future__ import annotations

import stat
import zipfile
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from io import BytesIO
from pathlib import Path, PurePosixPath

from guidekit.errors import InputError, MachineError, Problem, shown
from guidekit.registry import folded
from guidekit.store.archives import UNREADABLE, archive_in
from guidekit.store.files import open_ordinary
from guidekit.studio.pack_file.card import (
    CARD,
    LARGEST_FILE,
    LARGEST_PACK,
    MOST_FILES,
    VERSION,
    Card,
    card_text,
)
from guidekit.studio.pack_file.names import file_problem
from guidekit.toml import Origin, TomlFile, checked, toml_in

EPOCH = (1980, 1, 1, 0, 0, 0)  # the first date that the format has
METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
MOST_VERSION = 45
ENCRYPTED = 0x1 | 0x40 | 0x2000  # encrypted, strongly, and its names as well


@dataclass(frozen=True)
class Pack:
    """A pack that was read: its card, its files by name, which all fit the card, and its bytes."""

    path: Path
    card: Card
    files: dict[str, bytes]
    data: bytes

    @cached_property
    def presets(self) -> dict[str, TomlFile]:
        """The presets in it, by name."""
        return {PurePosixPath(n).stem: self._toml(n) for n in self._named("")}

    @cached_property
    def layouts(self) -> tuple[TomlFile, ...]:
        """The files of layouts in it."""
        return tuple(self._toml(name) for name in self._named("layouts"))

    def _named(self, folder: str) -> list[str]:
        names = (PurePosixPath(name) for name in sorted(self.files))
        return [str(x) for x in names if x.suffix == ".toml" and str(x.parent) == (folder or ".")]

    def _toml(self, name: str) -> TomlFile:
        return toml_in(self.path / name, self.files[name])


def pack_bytes(card: dict[str, object], files: dict[str, bytes]) -> bytes:
    """The bytes of a pack; `card` has all keys but ``pack`` and ``files``."""
    digests = {name: sha256(files[name]).hexdigest() for name in sorted(files)}
    out = BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        text = card_text({"pack": VERSION, **card, "files": digests})
        for name, data in {CARD: text, **dict(sorted(files.items()))}.items():
            info = zipfile.ZipInfo(name, EPOCH)
            info.create_system = 3  # Unix, on every system
            info.external_attr = (stat.S_IFREG | 0o644) << 16
            archive.writestr(info, data)
    return out.getvalue()


def read_pack(path: Path) -> Pack:
    """The pack in a file; raises `InputError` for one that is not sound, `MachineError`."""
    try:
        with open_ordinary(path) as file:
            if file is None:
                raise _bad(path, "there is no such file" if not path.exists() else "it is no file")
            data = file.read(LARGEST_PACK + 1)
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    return pack_in(data, path)


def pack_in(data: bytes, path: Path) -> Pack:
    """The pack in these bytes, which are those of the file at `path`; raises `InputError`."""
    if len(data) > LARGEST_PACK:
        raise _bad(path, f"it has more than {LARGEST_PACK:,} bytes")
    try:
        with archive_in(BytesIO(data)) as archive:
            _check_entries(archive, path)
            files = _read(archive, path)
    except UNREADABLE as error:
        if isinstance(error, UnicodeError):
            raise _bad(path, "its names are not UTF-8") from None
        raise _bad(path, f"it is no archive, or a broken one ({error})") from None
    card = _card(files.pop(CARD, None), path)
    if files.keys() != card.files.keys():
        name = sorted(files.keys() ^ card.files.keys())[0]
        where = "is not on its card" if name in files else "is on its card, and not in it"
        raise _bad(path, f"{shown(name)} {where}")
    for name, text in sorted(files.items()):
        if sha256(text).hexdigest() != card.files[name]:
            raise _bad(path, f"{shown(name)} is not what its card says: the digest does not fit")
    return Pack(path, card, files, data)


def _check_entries(archive: zipfile.ZipFile, path: Path) -> None:
    """Raise `InputError` unless all names, sizes and methods are sound; nothing is read yet."""
    entries = archive.infolist()
    if len(entries) > MOST_FILES:
        raise _bad(path, f"it has more than {MOST_FILES:,} files")
    if sum(one.file_size for one in entries) > LARGEST_PACK:
        raise _bad(path, f"there are more than {LARGEST_PACK:,} bytes in it")
    seen: dict[str, str] = {}
    for one in entries:
        name, kind = one.filename, stat.S_IFMT(one.external_attr >> 16)
        if problem := file_problem(one.orig_filename) or file_problem(name):
            raise _bad(path, f"the name {shown(name)} in it {problem}")
        if other := seen.get(folded(name)):
            came = f"{shown(other)} and {shown(name)} in it are one name on some systems"
            raise _bad(path, came)
        seen[folded(name)] = name
        if kind not in (0, stat.S_IFREG):
            raise _bad(path, f"{shown(name)} in it is a link or a device, and no file")
        if one.flag_bits & ENCRYPTED:
            raise _bad(path, f"{shown(name)} in it is encrypted")
        if one.compress_type not in METHODS or one.extract_version > MOST_VERSION or one.volume:
            raise _bad(path, f"{shown(name)} in it is packed in a way that ISO/IEC 21320-1 has not")
        if one.file_size > LARGEST_FILE:
            raise _bad(path, f"{shown(name)} in it has more than {LARGEST_FILE:,} bytes")


def _read(archive: zipfile.ZipFile, path: Path) -> dict[str, bytes]:
    """All files; no more is read of one than its entry says."""
    files = {}
    for one in archive.infolist():
        with archive.open(one) as file:
            data = file.read(one.file_size + 1)
        if len(data) != one.file_size:
            raise _bad(path, f"{shown(one.filename)} in it has not the size that is told")
        files[one.filename] = data
    return files


def _card(text: bytes | None, path: Path) -> Card:
    if text is None:
        raise _bad(path, f"it has no {CARD}")
    file = toml_in(path / CARD, text)
    version = file.values.get("pack")
    if isinstance(version, int) and version > VERSION:
        came = f"this pack is of version {version}, and this guidekit reads {VERSION}"
        raise InputError(Problem((), came, todo="Install a newer guidekit.", file=path))
    return checked(Card, file.values, Origin(file))


def _bad(path: Path, came: str) -> InputError:
    todo = "Nothing of it is used; ask those who sent it for another."
    return InputError(Problem((), f"this is no pack: {came}", "a pack", todo, path))
