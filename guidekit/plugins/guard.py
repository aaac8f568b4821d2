"""What plug-ins give back, looked at before it is used: guides and writers that tell what is wrong.

A guide draws what touches the canvas, and not without end. A writer gives files of its own canvas,
with bytes, below the folder of the build.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import islice
from pathlib import PurePosixPath

from guidekit.errors import shown
from guidekit.layers.guides.kind import Guide, GuideInput
from guidekit.layers.model import Layer, Stack
from guidekit.plugins.drawings import MOST_SHAPES, WrongError, check_drawn, check_guide
from guidekit.plugins.installed import BroughtPart, Plugin
from guidekit.plugins.load import done_by, loaded, refused
from guidekit.raster.shapes import Shape
from guidekit.registry import folded
from guidekit.writers.protocol import Limits, Output, Writer

MOST_FILES = 10_000  # of one canvas
LONGEST = 240  # bytes of a name, which systems let have 255
MOST_PIECES = 1_000_000  # of one file
_NOT_IN_NAMES = r'[\x00-\x1f<>:"\\|?*\ud800-\udfff]'


def guide_of(plugin: Plugin, part: BroughtPart) -> Guide:
    """The guide that a plug-in brings, whose drawing is looked at; raises `InputError`."""
    guide = loaded(plugin, part)
    if not isinstance(guide, Guide):
        raise refused(plugin, part, f"is {type(guide).__name__} and not a Guide")
    if guide.name != part.name:
        raise refused(plugin, part, f"calls itself {shown(guide.name)}")
    done_by(plugin, part, "cannot be used", partial(check_guide, guide))

    def draw(given: GuideInput) -> Iterable[Shape | Layer]:
        page = given.page

        def drawn() -> list[Shape | Layer]:
            found = [*islice(guide.draw(given), MOST_SHAPES + 1)]
            check_drawn(found, page.boxes.canvas)
            return found

        return done_by(plugin, part, f"fails on {page.called}", drawn)

    return replace(guide, draw=draw)


@dataclass
class GuardedWriter:
    """A plug-in's writer, whose files are looked at."""

    plugin: Plugin
    part: BroughtPart
    writer: Writer
    name: str

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""

        def told() -> Limits:
            limits = self.writer.limits(dpi)
            check_limits(limits)
            return limits

        return done_by(self.plugin, self.part, "does not tell what it holds", told)

    def write(self, stack: Stack) -> list[Output]:
        """The files of one canvas."""

        def written() -> list[Output]:
            files = [*islice(self.writer.write(stack), MOST_FILES + 1)]
            return check_files(files, stack)

        return done_by(self.plugin, self.part, f"fails on {stack.file_name}", written)


def writer_of(plugin: Plugin, part: BroughtPart) -> GuardedWriter:
    """A writer that a plug-in brings, made anew; raises `InputError`."""
    make = loaded(plugin, part)

    def made() -> Writer:
        writer: Writer = make()
        if getattr(writer, "name", None) != part.name:
            raise WrongError(f"it calls itself {shown(getattr(writer, 'name', ''))}")
        if not all(callable(getattr(writer, needed, None)) for needed in ("limits", "write")):
            raise WrongError("a writer has limits and write")
        return writer

    return GuardedWriter(plugin, part, done_by(plugin, part, "cannot be made", made), part.name)


def check_limits(limits: object) -> None:
    """Raise `WrongError` unless these are limits in whole numbers."""
    if not isinstance(limits, Limits):
        raise WrongError(f"{type(limits).__name__} is not Limits")
    numbers = (limits.edge, limits.layers, limits.depth, limits.common_edge or 1)
    sound = all(type(x) is int and x > 0 for x in numbers)
    if not sound or not all(type(x) is bool for x in (limits.masks, limits.grey)):
        raise WrongError(f"these limits are not whole numbers, true and false: {str(limits)[:150]}")


def check_files(files: Sequence[Output], stack: Stack) -> list[Output]:
    """The files of one canvas, with all bytes; raises `WrongError` for anything else."""
    if not files:
        raise WrongError("it gives no file")
    if len(files) > MOST_FILES:
        raise WrongError(f"it gives more than {MOST_FILES:,} files")
    found = []
    for file in files:
        if not isinstance(file, tuple) or len(file) != 2:
            raise WrongError(f"{type(file).__name__} is not Output")
        name = file[0]
        check_file_name(name, stack.file_name)
        pieces = [*islice(file[1], MOST_PIECES + 1)]  # those of bytes are numbers
        if len(pieces) > MOST_PIECES:
            raise WrongError(f"{shown(name)} has more than {MOST_PIECES:,} pieces")
        if not all(isinstance(x, (bytes, memoryview)) for x in pieces):
            raise WrongError(f"the pieces of {shown(name)} are not bytes")
        if not any(map(len, pieces)):
            raise WrongError(f"{shown(name)} has no bytes")
        found.append(Output(str(name), [bytes(x) for x in pieces]))
    names = [folded(file.name) for file in found]
    if len({*names}) < len(names):
        raise WrongError("two of its files have one name")
    folders = {str(above) for name in names for above in PurePosixPath(name).parents}
    if both := folders.intersection(names):
        raise WrongError(f"{shown(min(both))} is a file and a folder")
    return found


def check_file_name(name: object, canvas: str) -> None:
    """Raise `WrongError` unless a name begins with that of its canvas and stays in the folder."""
    if isinstance(name, str) and (found := re.search(_NOT_IN_NAMES, name)):
        came = f"{shown(name)} has {shown(found[0])}, which not every system has in names"
        raise WrongError(came)
    parts = PurePosixPath(str(name)).parts
    inside = "/".join(parts) == name and ".." not in parts and not str(name).startswith("/")
    if not (inside and str(name).startswith(canvas) and len(str(name)) > len(canvas)):
        raise WrongError(f"{shown(name)} is no file name that begins with {shown(canvas)}")
    longest = max(len(part.encode()) for part in parts)
    if longest > LONGEST or any(part.endswith((" ", ".")) for part in parts):
        raise WrongError(f"{shown(name)} is no file name on every system")
