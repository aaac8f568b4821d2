"""What all canvases of an issue share, in pixels."""

from __future__ import annotations

from guidekit.geometry.page import Book, Drawing
from guidekit.issue import IssueFile
from guidekit.units import half_up


def book_of(file: IssueFile) -> Book:
    """What all canvases of the issue share."""
    issue, preset, dpi = file.issue, file.preset, file.preset.dpi
    lettering = preset.lettering
    return Book(
        title=issue.title,
        number=issue.number,
        preset=file.preset_name,
        preset_digest=file.preset_digest,
        preset_title=preset.title,
        font=file.font,
        paper=preset.paper,
        grey=preset.colour == "grey",
        depth=preset.depth,
        gutter_cover=preset.gutter_cover,
        drawing=tuple(
            Drawing(layer.name, half_up(layer.opacity * 255 / 100), layer.blend, layer.group or "")
            for layer in preset.drawing
        ),
        panel_groups=preset.panel_groups,
        dpi=dpi,
        border=max(1, half_up(preset.border.px(dpi))) if preset.border.value else 0,
        capitals=lettering.capitals.px(dpi),
        space=lettering.space.px(dpi),
        lettering_lines=lettering.lines if lettering.fill == "panels" else 0,
        square_grid=preset.square_grid.px(dpi),
        fold_strip=half_up(preset.fold_strip.px(dpi)),
    )
