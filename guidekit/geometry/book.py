"""What all canvases of an issue share, in pixels."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from guidekit.issue import LoadedIssue
from guidekit.raster.font import FontFile
from guidekit.units import Length, half_up


@dataclass(frozen=True)
class DrawingLayer:
    """A layer to draw on: its name, opacity 0 to 255, blend mode, and the group it is in.

    `above_borders` says that it stands above the panel borders, `own` that each panel has one.
    """

    name: str
    opacity: int = 255
    blend: Literal["normal", "multiply"] = "normal"
    group: str = ""
    above_borders: bool = False
    own: bool = False


@dataclass(frozen=True)
class Furniture:
    """What every canvas carries and no box depends on: words, paper, layers to draw on.

    `capitals` and `space` of the lettering and the side of the `square_grid` (0 for none) are exact
    pixels, for each of their lines is rounded by itself; `fold_strip` is whole.
    """

    title: str
    number: int | None
    preset: str
    preset_digest: str
    preset_title: str
    font: FontFile | None
    folio_font: FontFile | None
    paper: str
    grey: bool
    depth: int
    profile: bool
    gutter_cover: bool
    drawing: tuple[DrawingLayer, ...]
    capitals: Fraction
    space: Fraction
    lettering_lines: int
    square_grid: Fraction
    fold_strip: int
    right_to_left: bool


@dataclass(frozen=True)
class Book:
    """What the geometry of every page goes by, resolution and weight of borders in whole pixels."""

    dpi: int
    border: int
    furniture: Furniture


def book_of(file: LoadedIssue) -> Book:
    """What all canvases of the issue share."""
    preset, dpi = file.preset, file.preset.dpi
    return Book(dpi, border_weight(preset.border, dpi), _furniture(file))


def border_weight(border: Length, dpi: int) -> int:
    """The whole pixels of a border: at least one, unless it is none."""
    return max(1, half_up(border.px(dpi))) if border.value else 0


def _furniture(file: LoadedIssue) -> Furniture:
    issue, preset, dpi = file.issue, file.preset, file.preset.dpi
    lettering = preset.lettering
    return Furniture(
        title=issue.title,
        number=issue.number,
        preset=file.preset_name,
        preset_digest=file.preset_digest,
        preset_title=preset.title,
        font=file.font,
        folio_font=file.folio_font,
        paper=preset.paper,
        grey=preset.colour == "grey",
        depth=preset.depth,
        profile=preset.profile,
        gutter_cover=preset.gutter_cover,
        drawing=tuple(
            DrawingLayer(
                layer.name,
                half_up(layer.opacity * 255 / 100),
                layer.blend,
                layer.group or "",
                above_borders=layer.above == "borders",
                own=layer.name in preset.panel_groups,
            )
            for layer in preset.drawing
        ),
        capitals=lettering.capitals.px(dpi),
        space=lettering.space.px(dpi),
        lettering_lines=lettering.lines if lettering.rule_over == "panels" else 0,
        square_grid=preset.square_grid.px(dpi),
        fold_strip=half_up(preset.fold_strip.px(dpi)),
        right_to_left=file.direction == "rtl",
    )
