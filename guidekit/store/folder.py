"""The folder of a build as the build sees it: open it, put files into it, close it."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import Any, Literal, NamedTuple

from guidekit.errors import GuidekitError, InputError, MachineError, Problem
from guidekit.store.before import Before
from guidekit.store.files import behind_link, digest_of_pieces, find, flush_folder, state_of
from guidekit.store.folder_lock import locked
from guidekit.store.ledger import Ledger
from guidekit.store.record import NO_DIGEST, FileEntry, Made
from guidekit.store.renames import LOG, finish, rename_all, renames_of

#: What became of a file: written now; there already, byte for byte; drawn on and still made by the
#: same format; drawn on (or not ours) while its format has changed, so that the new canvas is not
#: written; not drawn on, but of another resolution than was asked for, and left as it is.
Outcome = Literal["written", "unchanged", "drawn", "kept", "other dpi"]


class Permissions(NamedTuple):
    """What a build may do to a folder beside replacing canvases of its own that nobody drew on.

    With `dry_run` it writes nothing, and outcomes are what they would be. `keep_dpi` leaves
    canvases of other resolutions, `take_over` makes canvases of another issue this one's.
    """

    dry_run: bool = False
    keep_dpi: bool = False
    take_over: bool = False


class Store:
    """One folder of pages with its record, for a build of the issue in the file `issue`."""

    def __init__(self, folder: Path, issue: Path, rules: Permissions):
        self.folder, self.issue, self.rules = folder, issue, rules
        self._ledger = Ledger(folder)

    @contextlib.contextmanager
    def opened(self, canvases: Collection[str]) -> Iterator[Store]:
        """The folder, made if need be and locked, until it is closed and its record saved.

        Raises `InputError` if one of the `canvases` there is another issue's, `MachineError`.
        """
        with contextlib.ExitStack() as held:
            with self._doing("opening"):
                self._refuse_file()
                if self.rules.dry_run:
                    self._ledger.read()
                else:
                    _make(self.folder)
                    held.enter_context(locked(self.folder))
                    self._ledger.open()
                    finish(self._ledger)
                self._refuse_other_issues(canvases)
            try:
                yield self
            except BaseException:
                with contextlib.suppress(GuidekitError):  # the first failure is the one to tell
                    self._close()
                raise
            self._close()

    def ended(self) -> bool:
        """Bring a move of pages that was stopped to its end; False if there was none.

        Raises `InputError`, `MachineError`.
        """
        with self._doing("reading"):
            self._refuse_file()
            if not state_of(self.folder / LOG):
                return False
            with locked(self.folder):
                self._ledger.open()
                finish(self._ledger)
            return True

    def look(self) -> dict[str, FileEntry]:
        """The files of this issue in the record, by name; nothing is locked or written.

        Raises `InputError`, `MachineError`.
        """
        self.ended()
        with self._doing("reading"):
            self._ledger.read()
        entries = self._ledger.files.items()
        return {name: entry for name, entry in entries if not self._is_of_another_issue(entry)}

    @contextlib.contextmanager
    def drawn_on(self) -> Iterator[Before | None]:
        """The old files of the folder, which is locked meanwhile; None if nothing may be written.

        Raises `InputError`, `MachineError`.
        """
        if self.rules.dry_run or not self.folder.is_dir():
            self.look()
            yield None
            return
        with self.opened(()), self._doing("reading"):
            before = Before(self._ledger)
            yield before

    def entry(self, name: str) -> FileEntry | None:
        """What the record says of a file of this issue."""
        entry = self._ledger.files.get(name)
        return None if entry is None or self._is_of_another_issue(entry) else entry

    def is_of_another_issue(self, name: str) -> bool:
        """True if the record has a file, and not for this issue."""
        return name in self._ledger.files and self.entry(name) is None

    def is_as_written(self, name: str) -> bool:
        """True if a file of this issue is byte for byte what a build wrote. Raises `OSError`."""
        entry, found = self.entry(name), find(self.folder / name)
        return entry is not None and found is not None and found.digest == entry.sha256

    def rename(
        self,
        files: Sequence[tuple[str, str]],
        texts: tuple[str, str],
        canvases: Mapping[str, str | None],
        *,
        still: Callable[[], bool],
        undo: bool = False,
    ) -> None:
        """Give files new names and the issue's file a new text, all or nothing; see `renames`.

        `texts` are the old and the new one, `canvases` have their new names. `still` says once more
        whether these are the files. With `undo` it is what was renamed last that is taken back.
        Raises `InputError`, `MachineError`.
        """
        if not self.folder.is_dir():
            _make(self.folder)
        with self.opened(()):
            if not still():
                raise MachineError(f"{self.folder}: its files have changed just now. Run it again.")
            here, ledger = self._issue_here, self._ledger
            rename_all(ledger, renames_of(ledger, here, texts, files, canvases, undo=undo))

    def has_guides(self, name: str, info: dict[str, Any], made: Made) -> None:
        """A drawing has the guides of `info`; its record is made anew if that was lost.

        Its digest is not noted: it is no file of ours.
        """
        entry = FileEntry(sha256=NO_DIGEST, issue=self._issue_here, **made._asdict())
        known = self._ledger.files.get(name, entry)
        self._ledger.files[name] = replace(known, info=made.info)
        self.tell(info, made.info)

    def told(self, entry: FileEntry) -> dict[str, Any] | None:
        """What the record says of the canvas of a file."""
        return self._ledger.infos.get(entry.info)

    def put(self, name: str, pieces: Sequence[bytes], made: Made) -> Outcome:
        """Write a file unless that would cost a drawing; raises `MachineError`."""
        digest = digest_of_pieces(pieces)
        entry = FileEntry(sha256=digest, issue=self._issue_here, **made._asdict())
        try:
            return self._put(name, pieces, entry)
        except OSError as error:
            raise MachineError.from_os(f"writing {self.folder / name}", error) from None

    def _put(self, name: str, pieces: Sequence[bytes], entry: FileEntry) -> Outcome:
        path, known = self.folder / name, self._ledger.files.get(name)
        same = known and (known.sha256 == entry.sha256 or known.info == entry.info != "")
        left_alone: Outcome = "drawn" if same else "kept"
        if behind_link(self.folder, name):
            return left_alone
        found = find(path)
        if found:
            if found.digest == entry.sha256:
                self._ledger.files[name] = entry
                return "unchanged"
            if not known or found.digest != known.sha256 or path.is_symlink():
                return left_alone
            if self.rules.keep_dpi and known.dpi != entry.dpi:
                return "other dpi"
        if self.rules.dry_run or self._ledger.write(name, pieces, entry, found and found.state):
            return "written"
        return "kept"

    def tell(self, info: dict[str, Any], key: str) -> None:
        """Keep what is known of a canvas for the files whose `Made` has this key."""
        self._ledger.infos[key] = info

    def news(self, cautions: Sequence[str]) -> tuple[str, ...]:
        """Those that the last build in this folder did not give; they are kept for the next one."""
        before = {*self._ledger.cautions}
        self._ledger.cautions = sorted(cautions)
        return tuple(caution for caution in cautions if caution not in before)

    def left_over(self, is_stale: Callable[[str, FileEntry], bool]) -> tuple[str, ...]:
        """The files of this issue that are in the record, there and stale, by name."""
        return tuple(
            name
            for name, entry in sorted(self._ledger.files.items())
            if is_stale(name, entry)
            and not self._is_of_another_issue(entry)
            and state_of(self.folder / name)
        )

    def _close(self) -> None:
        if not self.rules.dry_run:
            self._ledger.close()

    def _refuse_file(self) -> None:
        if self.folder.exists() and not self.folder.is_dir():
            allowed = "a folder, there or still to be made"
            todo = f"Name {allowed}."
            raise InputError(Problem((), "this is a file", allowed, todo, self.folder))

    def _refuse_other_issues(self, canvases: Collection[str]) -> None:
        others = {
            name: entry.issue
            for name, entry in sorted(self._ledger.files.items())
            if entry.canvas in canvases
            and self._is_of_another_issue(entry)
            and state_of(self.folder / name)
        }
        if others and not self.rules.take_over:
            name, issue = next(iter(others.items()))
            more = f" and {len(others) - 1} more" if len(others) > 1 else ""
            came = f"{name}{more} were made for another issue, {(self.folder / issue).resolve()}"
            allowed = "the canvases of one issue under the same names"
            todo = "Build into another folder, or give one of the two issues another file_name."
            raise InputError(Problem((), came, allowed, todo, self.folder))

    def _is_of_another_issue(self, entry: FileEntry) -> bool:
        """True if a file was made for an issue that is still there and is not this one.

        An issue whose file is gone was renamed or moved.
        """
        other = self.folder / entry.issue
        if entry.issue == self._issue_here or not other.is_file():
            return False
        return not (self.issue.exists() and other.samefile(self.issue))

    @contextlib.contextmanager
    def _doing(self, what: str) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise MachineError.from_os(f"{what} the folder {self.folder}", error) from None

    @cached_property
    def _issue_here(self) -> str:
        """The path of the issue's file from the folder, as the record has it."""
        issue, folder = self.issue.resolve(), self.folder.resolve()
        try:
            path = Path(os.path.relpath(issue, folder))
        except ValueError:  # on another drive
            path = issue
        return path.as_posix().encode(errors="backslashreplace").decode()


def _make(folder: Path) -> None:
    if not folder.exists():
        folder.mkdir(parents=True, exist_ok=True)
        flush_folder(folder.parent)
