"""From a canvas or from answers to the text of a preset: each value with where it comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from guidekit.errors import InputError, Problem, WrongValueError, shown
from guidekit.preset import Preset, find_preset
from guidekit.shipped import FullCatalogue
from guidekit.studio.canvas_facts import CanvasFacts
from guidekit.toml import Origin, checked, toml_in
from guidekit.toml.spell import spelled
from guidekit.units import Length, decimal, half_up

GUESSED = "guessed"
LARGEST_BLEED = Fraction(15)  # mm: what is farther inside is no trim (our choice)
LARGEST_MARGIN = Fraction(30)  # mm from the trim to the safe area (our choice)
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
    """The rows of answers: `trim` as ``6.625 x 10.25 in``; what is None has a usual value."""
    width, height = _size(trim)
    table = f"{{ width = {spelled(str(width))}, height = {spelled(str(height))} }}"
    rows = [PresetLine("dpi", str(dpi), "as asked for"), PresetLine("trim", table, "as asked for")]
    for key, (usual, note) in DEFAULTS.items():
        value = given.get(key)
        try:
            length = Length.parse(value or usual)
        except WrongValueError as error:
            problem = error.problems[0]
            raise InputError(
                Problem((), problem.came, problem.allowed, problem.todo, argument=key)
            ) from None
        rows.append(PresetLine(key, spelled(str(length)), "as asked for" if value else note))
    return rows


def _size(text: str) -> tuple[Length, Length]:
    """``6.625 x 10.25 in`` or ``148 mm x 105 mm``."""
    parts = [part.strip() for part in text.replace("×", "x").split("x")]
    try:
        if len(parts) == 2:
            height = Length.parse(parts[1])
            one = parts[0] if not parts[0][-1:].isdigit() else f"{parts[0]} {height.unit}"
            return Length.parse(one), height
    except WrongValueError:
        pass
    allowed = 'width and height, as in "6.625 x 10.25 in"'
    raise InputError(Problem((), f"{shown(text)} is not a size", allowed, argument="trim"))


def proposed(canvas: CanvasFacts, name: str, catalogue: FullCatalogue) -> list[PresetLine]:
    """The rows of a canvas: what it says, and what is proposed for the rest."""
    read = f"read from {name}"
    dpi = canvas.dpi or 300
    rows = [PresetLine("dpi", str(dpi), read if canvas.dpi else "guessed: the file does not say")]
    if canvas.grey:
        rows.append(PresetLine("colour", '"grey"', read))
    if canvas.depth == 16:
        rows.append(PresetLine("depth", "16", read))
    rows += _by_rulers(canvas, dpi) or _by_a_preset(canvas, dpi, catalogue) or _plain(canvas, dpi)
    there = {row.key for row in rows}
    rows += [
        PresetLine(key, spelled(usual), note)
        for key, (usual, note) in DEFAULTS.items()
        if key not in there
    ]
    return rows


def _by_rulers(canvas: CanvasFacts, dpi: int) -> list[PresetLine]:
    """Trim, bleed and safe area from ruler guides near the edges; nothing without any."""
    across, down = _margins(canvas.upright, canvas.width), _margins(canvas.level, canvas.height)
    if not across or not down:
        return []
    near = [pairs[0] for pairs in (across, down)]
    has_bleed = all(_mm(max(pair), dpi) <= LARGEST_BLEED for pair in near)
    bleed = near if has_bleed else [(0, 0), (0, 0)]
    inner = [pairs[1 if has_bleed else 0 :] for pairs in (across, down)]
    note = "guessed: the ruler guides nearest to the edges"
    rows = _trim(
        canvas, dpi, bleed, note if has_bleed else "guessed: no ruler guide near the edges"
    )
    if all(inner):
        (left, right), (top, bottom) = (pairs[0] for pairs in inner)
        margins = (left - bleed[0][0], right - bleed[0][1], top - bleed[1][0], bottom - bleed[1][1])
        if all(0 <= _mm(x, dpi) <= LARGEST_MARGIN for x in margins):
            rows.append(
                PresetLine("safe_area", _edges(margins, dpi), "guessed: the next ruler guides")
            )
    return rows


def _margins(rulers: Sequence[float], extent: int) -> list[tuple[int, int]]:
    """Ruler guides in pairs, from the edges inward: pixels from the near and from the far edge."""
    near = sorted({round(x) for x in rulers if 0 < x < extent / 2})
    far = sorted({extent - round(x) for x in rulers if extent / 2 < x < extent})
    return [*zip(near, far, strict=False)]


def _trim(
    canvas: CanvasFacts, dpi: int, bleed: Sequence[tuple[int, int]], note: str
) -> list[PresetLine]:
    (left, right), (top, bottom) = bleed
    width, height = canvas.width - left - right, canvas.height - top - bottom
    table = f"{{ width = {_length(width, dpi)}, height = {_length(height, dpi)} }}"
    edges = _edges((left, right, top, bottom), dpi)
    return [PresetLine("trim", table, note), PresetLine("bleed", edges, note)]


def _edges(margins: tuple[int, int, int, int], dpi: int) -> str:
    """One length for all edges, or each; of two sides the narrower is taken for the inside."""
    left, right, top, bottom = margins
    if len({*margins}) == 1:
        return _length(left, dpi)
    names = {"top": top, "bottom": bottom, "inside": min(left, right), "outside": max(left, right)}
    return f"{{ {', '.join(f'{name} = {_length(px, dpi)}' for name, px in names.items())} }}"


def _by_a_preset(canvas: CanvasFacts, dpi: int, catalogue: FullCatalogue) -> list[PresetLine]:
    """The values of a shipped format whose pages have just this canvas."""
    for name in catalogue.presets:
        preset = find_preset(name, catalogue).preset
        if (
            preset.trim
            and not preset.sheet
            and _size_of(preset, dpi) == (canvas.width, canvas.height)
        ):
            note = f"guessed: the canvas is as large as that of {name}"
            return [*_rows_of(preset, note)]
    return []


def _size_of(preset: Preset, dpi: int) -> tuple[int, int]:
    size, bleed = preset.page_size, preset.bleed
    across = size.width.px(dpi) + bleed.inside.px(dpi) + bleed.outside.px(dpi)
    down = size.height.px(dpi) + bleed.top.px(dpi) + bleed.bottom.px(dpi)
    return half_up(across), half_up(down)


def _rows_of(preset: Preset, note: str) -> Iterator[PresetLine]:
    assert preset.trim
    size = {"width": str(preset.trim.width), "height": str(preset.trim.height)}
    yield PresetLine("trim", spelled(size), note)
    for key in ("bleed", "safe_area"):
        edges = getattr(preset, key)
        yield PresetLine(
            key, spelled({x: str(getattr(edges, x)) for x in type(edges).model_fields}), note
        )


def _plain(canvas: CanvasFacts, dpi: int) -> list[PresetLine]:
    """Trim as the canvas less a usual bleed."""
    px = half_up(Length.parse(DEFAULTS["bleed"][0]).px(dpi))
    return _trim(canvas, dpi, ((px, px), (px, px)), "guessed: a bleed of 3 mm on all edges")


def _mm(px: int, dpi: int) -> Fraction:
    return Length(Fraction(px), "px").mm(dpi)


def _length(px: int, dpi: int) -> str:
    """So many pixels as TOML: in whole mm or sixteenths of an inch where that is the same."""
    inches = Fraction(px, dpi)
    for steps, unit, scale in (
        (1, "mm", Fraction(254, 10)),
        (16, "in", Fraction(1)),
        (2, "mm", Fraction(254, 10)),
    ):
        value = Fraction(half_up(inches * scale * steps), steps)
        if half_up(value / scale * dpi) == px:
            return spelled(f"{decimal(value)} {unit}")
    return spelled(f"{px} px")
