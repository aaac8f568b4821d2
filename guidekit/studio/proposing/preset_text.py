"""The text of a new preset, each value with where it comes from; a preset from answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from guidekit.errors import InputError, Problem, WrongValueError, shown
from guidekit.preset import Preset
from guidekit.toml import Origin, checked, toml_in
from guidekit.toml.spell import spelled
from guidekit.units import Length

DEFAULTS = {
    "bleed": ("3 mm", "guessed: common practice, no source"),
    "safe_area": ("6 mm", "guessed: common practice, no source"),
    "gutter": ("5 mm", "guessed: change it to yours"),
    "border": ("0.8 mm", "guessed: change it to yours"),
}
HEAD = "# Check every number; the printer's own sheet wins. What is guessed is marked as such.\n"


@dataclass(frozen=True)
class PresetLine:
    """A line of a preset: a key, its value as TOML writes it, and where that comes from."""

    key: str
    value: str
    note: str


def preset_text(title: str, rows: Sequence[PresetLine]) -> str:
    """The text of a preset; raises `InputError` if its values do not go together."""
    lines = [("title", spelled(title), ""), *((x.key, x.value, x.note) for x in rows)]
    drawing = '["Lettering", "Inks", "Colours", "Pencils"]'
    lines.append(("drawing", drawing, "the layers to draw on, the uppermost first"))
    widest = max(len(key) for key, _, _ in lines)
    text = "".join(f"{k:{widest}} = {v}{f'  # {note}' if note else ''}\n" for k, v, note in lines)
    file = toml_in(Path("the new preset"), text.encode())
    checked(Preset, file.values, Origin(file))
    return HEAD + text


def answered(trim: str, dpi: int, given: dict[str, str | None]) -> list[PresetLine]:
    """The rows of answers: `trim` as ``6.625 x 10.25 in``; what is None has a usual value.

    Raises `InputError` with all that is wrong.
    """
    rows = [PresetLine("dpi", str(dpi), "as asked for")]
    problems: list[Problem] = []
    try:
        width, height = _size(trim)
        table = f"{{ width = {spelled(str(width))}, height = {spelled(str(height))} }}"
        rows.append(PresetLine("trim", table, "as asked for"))
    except WrongValueError as error:
        problems += (replace(problem, argument="trim") for problem in error.problems)
    for key, (usual, note) in DEFAULTS.items():
        value = given.get(key)
        try:
            length = Length.parse(value or usual)
            rows.append(PresetLine(key, spelled(str(length)), "as asked for" if value else note))
        except WrongValueError as error:
            problems += (replace(problem, argument=key) for problem in error.problems)
    if problems:
        raise InputError(problems)
    return rows


def _size(text: str) -> tuple[Length, Length]:
    """``6.625 x 10.25 in`` or ``148 mm x 105 mm``; raises `WrongValueError`."""
    parts = [part.strip() for part in text.replace("×", "x").split("x")]
    try:
        if len(parts) == 2:
            height = Length.parse(parts[1])
            one = parts[0] if not parts[0][-1:].isdigit() else f"{parts[0]} {height.unit}"
            return Length.parse(one), height
    except WrongValueError:
        pass
    allowed = 'width and height, as in "6.625 x 10.25 in"'
    raise WrongValueError(f"{shown(text)} is not a size", allowed)
