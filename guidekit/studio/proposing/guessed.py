"""From a finished canvas to the rows of a preset: what it says, and what is guessed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from guidekit.errors import InputError, MachineError, Problem
from guidekit.preset import Preset, find_preset
from guidekit.shipped import FullCatalogue
from guidekit.studio.proposing.canvas_facts import CanvasFacts, canvas_of
from guidekit.studio.proposing.preset_text import DEFAULTS, PresetLine, preset_text
from guidekit.toml.spell import spelled
from guidekit.units import Length, decimal, half_up
from guidekit.wording import parameter

USUAL_DPI = 300  # where a file does not say
LARGEST_BLEED = Fraction(15)  # mm: what is farther inside is no trim (our choice)
LARGEST_MARGIN = Fraction(30)  # mm from the trim to the safe area (our choice)


def proposed(path: Path, catalogue: FullCatalogue, spread: bool | None = None) -> list[PresetLine]:
    """The rows of a canvas: what its file says, and what is proposed for the rest.

    A `spread` is two facing pages; None leaves that to be guessed. Raises `InputError`,
    `MachineError`.
    """
    canvas = canvas_of(path)
    rows = _rows(canvas, f"read from {path.name}", catalogue, spread)
    try:
        preset_text("A canvas", rows)
    except InputError:
        size = f"{canvas.width} × {canvas.height} px at {canvas.dpi or USUAL_DPI} dpi"
        came, todo = f"{size} are no page with a margin", f"Give its size with {parameter('trim')}."
        raise InputError(Problem((), came, todo=todo, file=path)) from None
    return rows


def _rows(
    canvas: CanvasFacts, read: str, catalogue: FullCatalogue, spread: bool | None
) -> list[PresetLine]:
    dpi = canvas.dpi or USUAL_DPI
    rows = [PresetLine("dpi", str(dpi), read if canvas.dpi else "guessed: the file does not say")]
    if canvas.grey:
        rows.append(PresetLine("colour", '"grey"', read))
    if canvas.depth == 16:
        rows.append(PresetLine("depth", "16", read))
    facing = _has_fold(canvas) if spread is None else spread
    page = _right_page(canvas, dpi) if facing else canvas
    found = _by_rulers(page, dpi, facing) or _by_a_preset(canvas, dpi, catalogue, spread)
    if facing:
        note = "as asked for" if spread else "guessed: there is a ruler guide on the fold"
        rows.append(PresetLine("facing", "true", note))
    rows += found or _plain(page, dpi)
    there = {row.key for row in rows}
    rows += [
        PresetLine(key, spelled(usual), note)
        for key, (usual, note) in DEFAULTS.items()
        if key not in there
    ]
    return rows


def _has_fold(canvas: CanvasFacts) -> bool:
    """True if a wide canvas has a ruler guide in its middle."""
    middle = canvas.width / 2
    return canvas.width > canvas.height and any(abs(x - middle) <= 1 for x in canvas.upright)


def _right_page(canvas: CanvasFacts, dpi: int) -> CanvasFacts:
    """The right one of two facing pages, with as much beyond its fold as on its outside.

    The safe area is as far from the fold as from the outside at least: what lies nearer is panels.
    """
    fold = canvas.width // 2
    upright = [x for x in canvas.upright if x > fold + 1]
    beyond = half_up(Length.parse(DEFAULTS["bleed"][0]).px(dpi))
    if upright:
        outside = canvas.width - round(max(upright))
        beyond = outside if _mm(outside, dpi) <= LARGEST_BLEED else 0
        trim = canvas.width - beyond
        margin = min((trim - x for x in upright if round(x) < trim), default=0)
        upright = [x for x in upright if x - fold >= margin]
    moved = tuple(x - fold + beyond for x in (fold, *upright))
    return replace(canvas, width=canvas.width - fold + beyond, upright=moved if upright else ())


def _by_rulers(canvas: CanvasFacts, dpi: int, right: bool) -> list[PresetLine]:
    """Trim, bleed and safe area from ruler guides near the edges; nothing without any.

    The inside of a `right` page is on its left; of others the narrower side is taken for it.
    """
    across, down = _margins(canvas.upright, canvas.width), _margins(canvas.level, canvas.height)
    if not across or not down:
        return []
    first = [pairs[0] for pairs in (across, down)]
    has_bleed = all(_mm(max(pair), dpi) <= LARGEST_BLEED for pair in first)
    bleed = first if has_bleed else [(0, 0), (0, 0)]
    further = [pairs[1 if has_bleed else 0 :] for pairs in (across, down)]
    note = "guessed: the ruler guides nearest to the edges"
    rows = _trim(
        canvas, dpi, bleed, note if has_bleed else "guessed: no ruler guide near the edges"
    )
    if all(further):
        (near, far), (top, bottom) = (pairs[0] for pairs in further)
        margins = (near - bleed[0][0], far - bleed[0][1], top - bleed[1][0], bottom - bleed[1][1])
        if all(0 <= _mm(x, dpi) <= LARGEST_MARGIN for x in margins):
            inside, outside = margins[:2] if right else sorted(margins[:2])
            edges = _edges(inside, outside, *margins[2:], dpi)
            rows.append(PresetLine("safe_area", edges, "guessed: the next ruler guides"))
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
    edges = _edges(min(left, right), max(left, right), top, bottom, dpi)
    return [PresetLine("trim", table, note), PresetLine("bleed", edges, note)]


def _edges(inside: int, outside: int, top: int, bottom: int, dpi: int) -> str:
    """One length for all edges, or each."""
    if inside == outside == top == bottom:
        return _length(top, dpi)
    names = {"top": top, "bottom": bottom, "inside": inside, "outside": outside}
    return f"{{ {', '.join(f'{name} = {_length(px, dpi)}' for name, px in names.items())} }}"


def _by_a_preset(
    canvas: CanvasFacts, dpi: int, catalogue: FullCatalogue, spread: bool | None
) -> list[PresetLine]:
    """The values of a format whose pages, or two of them, have just this canvas."""
    for pages in (1, 2) if spread is None else (2,) if spread else (1,):
        for name in catalogue.presets:
            # one that is wrong is no reason to look at no other
            with suppress(InputError, MachineError):
                preset = find_preset(name, catalogue).preset
                if not preset.trim or preset.sheet or (pages == 2 and not preset.facing):
                    continue
                if _size_of(preset, dpi, pages) == (canvas.width, canvas.height):
                    many = "that" if pages == 1 else "two facing pages"
                    note = f"guessed: the canvas is as large as {many} of {name}"
                    return [*_rows_of(preset, note)]
    return []


def _size_of(preset: Preset, dpi: int, pages: int) -> tuple[int, int]:
    """The canvas of a page, or of two, which have nothing beyond the fold."""
    size, bleed = preset.page_size, preset.bleed
    across = size.width.px(dpi) + bleed.outside.px(dpi)
    down = size.height.px(dpi) + bleed.top.px(dpi) + bleed.bottom.px(dpi)
    width = 2 * half_up(across) if pages == 2 else half_up(across + bleed.inside.px(dpi))
    return width, half_up(down)


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
