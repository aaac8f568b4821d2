"""What became of files that were to get today's guides."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeVar

from guidekit.drawn.unfit import OtherPageError, UnfitError

T = TypeVar("T")

#: New guides are in it; it had them already; nobody has drawn on it, so that a build makes it anew;
#: it is left as it is for a reason; its old state is back.
RefreshOutcome = Literal["refreshed", "up to date", "empty", "refused", "put back"]


@dataclass(frozen=True)
class Refreshed:
    """What became of one file: why not, or what has changed, what is worth telling.

    `kept` is where the old file is, seen from the folder. If a file is refused as long as its page
    is not named, `unless_named` is why, without what to do about it.
    """

    name: str
    pages: tuple[int, ...]
    outcome: RefreshOutcome
    why: str = ""
    changed: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    kept: str = ""
    unless_named: str = ""

    @classmethod
    def refused(cls, name: str, pages: tuple[int, ...], unfit: UnfitError) -> Refreshed:
        """A file that is left as it is."""
        named = unfit.came if isinstance(unfit, OtherPageError) else ""
        return cls(name, pages, "refused", str(unfit), unless_named=named)


@dataclass(frozen=True)
class RefreshReport:
    """What became of every file that is there, in the order of pages."""

    folder: Path
    files: tuple[Refreshed, ...]

    def named(self, outcome: RefreshOutcome) -> tuple[Refreshed, ...]:
        """The files of one outcome."""
        return tuple(file for file in self.files if file.outcome == outcome)

    @property
    def complete(self) -> bool:
        """True if no file was refused."""
        return not self.named("refused")


def tried(name: str, pages: tuple[int, ...], work: Callable[[], T]) -> T | Refreshed:
    """What some work on a file gives, or why it cannot be done."""
    try:
        return work()
    except UnfitError as unfit:
        return Refreshed.refused(name, pages, unfit)
    except OSError as error:
        todo = "The file is as it was; mend it and run again."
        failed = UnfitError(error.strerror or str(error), todo)
        return Refreshed.refused(name, pages, failed)
