"""The numbers of a laid-out page as plain data, for people and programs to read."""

from __future__ import annotations

from typing import Any

from guidekit.geometry.box import Box
from guidekit.geometry.outline import box_of
from guidekit.geometry.page import PagePlan, Panel


def measured(page: PagePlan) -> dict[str, Any]:
    """All boxes in canvas pixels, half-open ``[left, top, right, bottom]``.

    A panel that is no box has ``corners`` as well, [x, y] to a thousandth of a pixel, and a
    ``radius`` if they are rounded; ``cut_out`` are the boxes that insets and their margins take.
    """
    sheet = page.sheet
    data: dict[str, Any] = {
        "pages": list(page.numbers),
        "side": page.side,
        "stem": page.stem,
        "dpi": page.book.dpi,
        "canvas": [sheet.canvas.width, sheet.canvas.height],
        "bleed": sheet.bleed.as_list(),
        "trim": sheet.trim.as_list(),
        "safe": sheet.safe.as_list(),
        "gutter": {"across": page.across, "down": page.down},
        "border": page.book.border,
        "panels": [_panel(panel) for panel in page.panels],
    }
    if page.screens:
        data["screens"] = list(page.screens)
    if sheet.fold is not None:
        data["fold"] = sheet.fold
        data["halves"] = [
            {"trim": trim.as_list(), "safe": safe.as_list()} for trim, safe in sheet.halves
        ]
    return data


def _panel(panel: Panel) -> dict[str, Any]:
    data: dict[str, Any] = {"number": panel.number, "box": panel.box.as_list()}
    if panel.bleed:
        data["bleed"] = list(panel.bleed)
    if not isinstance(panel.sharp, Box):
        data["corners"] = [[round(x, 3), round(y, 3)] for x, y in panel.sharp]
    if panel.radius:
        data["radius"] = panel.radius
    if panel.cuts:
        data["cut_out"] = [box_of(cut).as_list() for cut in panel.cuts]
    return data
