"""The numbers of a laid-out page as plain data, for people and programs to read."""

from __future__ import annotations

from typing import Any

from guidekit.geometry.box import Box
from guidekit.geometry.convex import corners
from guidekit.geometry.page import Outline, PagePlan


def _corners(outline: Outline) -> list[list[float]]:
    """Corners as [x, y], to a thousandth of a pixel."""
    points = corners(outline) if isinstance(outline, Box) else outline
    return [[round(x, 3), round(y, 3)] for x, y in points]


def measured(page: PagePlan) -> dict[str, Any]:
    """All boxes in canvas pixels, half-open ``[left, top, right, bottom]``.

    A panel that is no box has ``corners`` as well, and ``cut_out`` where insets lie over it.
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
        "panels": [
            {"number": panel.number, "box": panel.box.as_list()}
            | ({"bleed": list(panel.bleed)} if panel.bleed else {})
            | ({} if isinstance(panel.outline, Box) else {"corners": _corners(panel.outline)})
            | ({"cut_out": [_corners(cut) for cut in panel.cuts]} if panel.cuts else {})
            for panel in page.panels
        ],
    }
    if page.screens:
        data["screens"] = list(page.screens)
    if sheet.fold is not None:
        data["fold"] = sheet.fold
        data["halves"] = [
            {"trim": trim.as_list(), "safe": safe.as_list()} for trim, safe in sheet.halves
        ]
    return data
