"""The lock file of an issue as it is written: what the issue uses, with all values."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field

from guidekit.digest import digest_of
from guidekit.errors import InputError, MachineError, Problem, key_text, shown
from guidekit.store.files import open_ordinary
from guidekit.studio.lock.path import lock_path
from guidekit.toml import Model, Origin, TomlFile, checked
from guidekit.toml.model import Name
from guidekit.wording import call

VERSION: Literal[1] = 1
LARGEST = 50_000_000  # bytes

Digest = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]


class Locked(Model):
    """A preset or a layout: all its values, and the SHA-256 of their canonical JSON."""

    example: ClassVar = {"sha256": "0" * 64, "values": {}}

    sha256: Digest
    values: dict[str, Any]


class LockedFont(Model):
    """A font: the name of its file, and the SHA-256 of its bytes, which may not be handed on."""

    example: ClassVar = {"file": "house.ttf", "sha256": "0" * 64}

    file: Name
    sha256: Digest


class FromPlugin(Model):
    """A guide or a format: the plug-in that it is from, and the plug-in's version."""

    example: ClassVar = {"plugin": "ink-tools", "version": "1.0"}

    plugin: Name
    version: Name


class Lock(Model):
    """All that an issue uses and does not hold itself.

    `issue` is the name of its file. A preset has its values merged with those it is based on.
    `series` and `fonts` stand under the names that the issue gives them. `sha256` is the digest of
    all the rest.
    """

    example: ClassVar = {"issue": "salt-road.toml", "sha256": "0" * 64, "version": 1}

    version: Literal[1]
    issue: Name
    presets: dict[Name, Locked] = Field(default_factory=dict)
    layouts: dict[Name, Locked] = Field(default_factory=dict)
    series: dict[Name, Locked] = Field(default_factory=dict)
    fonts: dict[Name, LockedFont] = Field(default_factory=dict)
    guides: dict[Name, FromPlugin] = Field(default_factory=dict)
    formats: dict[Name, FromPlugin] = Field(default_factory=dict)
    sha256: Digest


def as_locked(values: dict[str, Any]) -> Locked:
    """Values as a lock holds them."""
    return Locked.model_construct(sha256=digest_of(values), values=values)


def lock_text(lock: dict[str, Any]) -> bytes:
    """A lock as it is stored, the same for the same values; `lock` has all keys but ``sha256``."""
    data = {**lock, "sha256": digest_of(lock)}
    return (json.dumps(data, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode()


def read_lock(issue: Path) -> Lock:
    """The lock beside an issue; raises `InputError`, `MachineError`."""
    path = lock_path(issue)
    todo = f"Write it anew: {call('lock_issue', issue.name, update=True)}"

    def bad(came: str) -> InputError:
        return InputError(Problem((), came, "a lock as guidekit writes it", todo, path))

    try:
        with open_ordinary(path) as file:
            text = file.read(LARGEST + 1) if file else b""
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    try:
        data = json.loads(text)
        json.dumps(data, ensure_ascii=False).encode()  # halves of letters are no text
    except (ValueError, RecursionError):
        raise bad("this is no lock, or a part of one") from None
    if not isinstance(data, dict) or len(text) > LARGEST:
        raise bad("this is no lock")
    version = data.get("version")
    if isinstance(version, int) and version > VERSION:
        came = f"this lock is of version {version}, and this guidekit reads {VERSION}"
        raise InputError(Problem((), came, todo="Install a newer guidekit.", file=path))
    try:
        lock = checked(Lock, data, Origin(TomlFile(path, b"", data)))
    except InputError as error:
        first = error.problems[0]
        raise bad(f"this lock is not whole: {key_text(first.key)}: {first.came}") from None
    rest = {key: value for key, value in data.items() if key != "sha256"}
    if not _fits(rest, lock.sha256) or any(
        not _fits(one.values, one.sha256)
        for kind in (lock.presets, lock.layouts, lock.series)
        for one in kind.values()
    ):
        raise bad("this lock was changed by hand: its digests do not fit")
    if lock.issue != issue.name:
        raise bad(f"this lock is of another issue, {shown(lock.issue)}")
    return lock


def _fits(values: Any, digest: str) -> bool:
    try:
        return digest_of(values) == digest
    except ValueError:  # a number that JSON cannot hold
        return False
