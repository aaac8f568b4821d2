"""A line of text as glyphs in their places: direction, fonts that stand in, shaping.

The Unicode bidirectional algorithm (Unicode Standard Annex 9) finds which way each part runs, and
HarfBuzz joins and places the letters of each part as their script wants it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import partial
from itertools import groupby
from typing import NamedTuple
from unicodedata import bidirectional, category

import uharfbuzz as hb

from guidekit.memory import remembered
from guidekit.raster.face import Face, opened
from guidekit.raster.font import STANDARD, FontFile

_MARKS = {"Mn", "Mc", "Me", "Cf"}  # they belong to the letter before them
_RIGHT_TO_LEFT = {"R", "AL", "AN"}
_EMBEDDING = re.compile("[\u202a-\u202e\u2066-\u2069]")  # a label is one line of plain words


class Glyph(NamedTuple):
    """A glyph of a font and where it stands, in sizes of the letters, x to the right, y upward."""

    face: Face
    number: int
    x: float
    y: float


class TextLine(NamedTuple):
    """A line of text and how wide it is."""

    glyphs: tuple[Glyph, ...]
    width: float


class _Run(NamedTuple):
    """Letters `begin` to `end` that one font sets in one script and direction."""

    begin: int
    end: int
    face: Face
    level: int
    script: str


def faces_for(font: FontFile | None) -> tuple[Face, ...]:
    """The fonts for a text, the one to look in first in front."""
    return tuple(map(opened, STANDARD if font is None else (font, *STANDARD)))


@remembered
def typeset(text: str, font: FontFile | None) -> TextLine:
    """A text as a line that reads in the direction of its first letter."""
    text = _EMBEDDING.sub("", re.sub(r"\s", " ", text))
    glyphs: list[Glyph] = []
    x = 0.0
    for run in _as_seen(_runs(text, faces_for(font))):
        placed, width = _shaped(text, run)
        glyphs += (glyph._replace(x=x + glyph.x) for glyph in placed)
        x += width
    return TextLine(tuple(glyphs), x)


def missing_letters(text: str, font: FontFile | None = None) -> str:
    """The letters of `text` that no font for it has, each once, in order."""
    faces = faces_for(font)
    letters = (c for c in dict.fromkeys(text) if not c.isspace() and category(c) != "Cf")
    return "".join(c for c in letters if not any(face.has(c) for face in faces))


def _runs(text: str, faces: Sequence[Face]) -> list[_Run]:
    levels = _levels(text)
    fonts = _fonts(text, faces)
    scripts = _scripts(text)
    runs, begin = [], 0
    for (face, level, script), letters in groupby(
        range(len(text)), lambda i: (fonts[i], levels[i], scripts[i])
    ):
        end = begin + len([*letters])
        runs.append(_Run(begin, end, face, level, script))
        begin = end
    return runs


def _fonts(text: str, faces: Sequence[Face]) -> list[Face]:
    """For each letter the first font that has it; the first of all for one that none has."""
    found: list[Face] = []
    for letter in text:
        if found and category(letter) in _MARKS:
            found.append(found[-1])
        else:
            found.append(next((face for face in faces if face.has(letter)), faces[0]))
    return found


def _scripts(text: str) -> list[str]:
    """For each letter its script; what belongs to many scripts goes with what stands before it."""
    own = [_script(letter) for letter in text]
    before = next(filter(None, own), "Latn")
    return [before := script or before for script in own]


@remembered
def _script(letter: str) -> str:
    """The script of a letter (ISO 15924); an empty string if it belongs to many."""
    buffer = hb.Buffer()
    buffer.add_str(letter)
    buffer.guess_segment_properties()
    return buffer.script or ""


def _levels(text: str) -> list[int]:
    """The embedding level of each letter: odd for one that reads from right to left."""
    if not any(bidirectional(letter) in _RIGHT_TO_LEFT for letter in text):
        return [0] * len(text)
    from bidi import algorithm

    storage = algorithm.get_empty_storage()
    base = algorithm.get_base_level(text)
    storage |= {"base_level": base, "base_dir": "LR"[base]}
    algorithm.get_embedding_levels(text, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    resolved = iter(storage["chars"])  # without what rule X9 takes out
    level = base
    return [
        level := level if bidirectional(c) in algorithm.X9_REMOVED else next(resolved)["level"]
        for c in text
    ]


def _as_seen(runs: list[_Run]) -> list[_Run]:
    """Runs from left to right (rule L2): what is at a level or above is turned round, from the
    highest level down.
    """
    for level in range(max((run.level for run in runs), default=0), 0, -1):
        groups = [(inner, [*group]) for inner, group in groupby(runs, partial(_reaches, level))]
        runs = [run for inner, group in groups for run in (group[::-1] if inner else group)]
    return runs


def _reaches(level: int, run: _Run) -> bool:
    return run.level >= level


def _shaped(text: str, run: _Run) -> tuple[list[Glyph], float]:
    buffer = hb.Buffer()
    buffer.add_codepoints([*map(ord, text)], run.begin, run.end - run.begin)
    buffer.direction = "rtl" if run.level % 2 else "ltr"
    buffer.script = run.script
    buffer.language = "und"  # HarfBuzz would take the language of the machine
    hb.shape(run.face.hb_font, buffer)
    return [*_placed(run.face, buffer)], sum(
        place.x_advance for place in buffer.glyph_positions
    ) / run.face.upem


def _placed(face: Face, buffer: hb.Buffer) -> Iterator[Glyph]:
    x = 0
    for info, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        left, up = (x + place.x_offset) / face.upem, place.y_offset / face.upem
        yield Glyph(face, info.codepoint, left, up)
        x += place.x_advance
