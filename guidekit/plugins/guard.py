"""What plug-ins give back, looked at before it is used: guides and writers that tell what is wrong.

A guide draws what touches the canvas, and not without end. A writer gives files of its own canvas,
with bytes, below the folder of the build.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from math import isfinite
from pathlib import PurePosixPath

from guidekit.errors import shown
from guidekit.layers.guides.kind import Guide, GuideInput
from guidekit.layers.model import Layer, Stack
from guidekit.plane.box import Box
from guidekit.plugins.installed import BroughtPart, Plugin
from guidekit.plugins.load import done_by, loaded, refused
from guidekit.preset.guides import STATES
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Shape, Stroke
from guidekit.raster.text import Text, letter_box
from guidekit.writers.protocol import Limits, Output, Writer

MOST_SHAPES = 100_000  # of one guide on one canvas
MOST_FILES = 10_000  # of one canvas
MOST_PIECES = 1_000_000  # of one file
FARTHEST = 10_000_000  # pixels from the canvas's origin


class WrongError(ValueError):
    """What a plug-in gave back cannot be used, and why."""


def guide_of(plugin: Plugin, part: BroughtPart) -> Guide:
    """The guide that a plug-in brings, whose drawing is looked at; raises `InputError`."""
    guide = loaded(plugin, part)
    if not isinstance(guide, Guide):
        raise refused(plugin, part, f"is {type(guide).__name__} and not a Guide")
    if guide.name != part.name:
        raise refused(plugin, part, f"calls itself {shown(guide.name)}")

    def is_off() -> bool:
        return guide.state == "off" and {*guide.states} <= {*STATES}

    if not done_by(plugin, part, "has no states", is_off):
        raise refused(plugin, part, "is not off where nobody asks for it")

    def draw(given: GuideInput) -> Iterable[Shape | Layer]:
        page = given.page

        def drawn() -> list[Shape | Layer]:
            found = [*islice(guide.draw(given), MOST_SHAPES + 1)]
            _check_drawn(found, page.boxes.canvas)
            return found

        return done_by(plugin, part, f"fails on {page.called}", drawn)

    return replace(guide, draw=draw)


def _check_drawn(drawn: Sequence[object], canvas: Box) -> None:
    shapes: list[object] = []
    for one in drawn:
        if isinstance(one, Layer):
            _check_layer(one)
            shapes += one.shapes
        else:
            shapes.append(one)
    if len(shapes) > MOST_SHAPES:
        raise WrongError(f"it draws more than {MOST_SHAPES:,} shapes")
    for shape in shapes:
        points = [*_points(shape)]
        if any(not isfinite(x) or abs(x) > FARTHEST for point in points for x in point):
            raise WrongError(f"{type(shape).__name__} has no place: {points[:2]}")
        xs, ys = zip(*points, strict=True)
        if max(xs) < 0 or max(ys) < 0 or min(xs) > canvas.right or min(ys) > canvas.bottom:
            raise WrongError(f"{type(shape).__name__} lies wholly off the canvas")


def _check_layer(layer: Layer) -> None:
    colour = layer.colour
    sound = len(colour) == 3 and all(type(x) is int and 0 <= x <= 255 for x in colour)
    if not (sound and isinstance(layer.name, str) and 0 <= layer.opacity <= 255):
        raise WrongError("a layer has a colour of three numbers from 0 to 255, and such an opacity")


def _points(shape: object) -> Iterator[tuple[float, float]]:
    """Corners of a box round a shape, or of what it is made of."""
    if isinstance(shape, Rule):
        yield from ((shape.box.left, shape.box.top), (shape.box.right, shape.box.bottom))
    elif isinstance(shape, Stroke):
        yield from (shape.start, shape.end)
    elif isinstance(shape, Polygon) and len(shape.points) > 2:
        yield from shape.points
    elif isinstance(shape, Text):
        yield from _points(Rule(letter_box(shape)))
    elif isinstance(shape, (Area, Clip)) and shape.shapes:
        for inner in shape.shapes:
            yield from _points(inner)
    else:
        raise WrongError(f"{type(shape).__name__} is not a shape, or an empty one")


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
            if not isinstance(limits, Limits):
                raise WrongError(f"{type(limits).__name__} is not Limits")
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
        found.append(Output(str(name), pieces))
    names = [file.name.casefold() for file in found]
    if len({*names}) < len(names):
        raise WrongError("two of its files have one name")
    return found


def check_file_name(name: object, canvas: str) -> None:
    """Raise `WrongError` unless a name begins with that of its canvas and stays in the folder."""
    plain = isinstance(name, str) and not re.search(r'[\x00-\x1f<>:"\\|?*\ud800-\udfff]', name)
    parts = PurePosixPath(str(name)).parts
    inside = "/".join(parts) == name and ".." not in parts and not str(name).startswith("/")
    if not (plain and inside and str(name).startswith(canvas) and len(str(name)) > len(canvas)):
        raise WrongError(f"{shown(name)} is no file name that begins with {shown(canvas)}")
