"""The numbers of a laid-out page as plain data, for people and programs to read."""

from __future__ import annotations

from typing import Any

from guidekit.geometry.page import PagePlan


def measured(page: PagePlan) -> dict[str, Any]:
    """All boxes in canvas pixels, half-open ``[left, top, right, bottom]``."""
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
            for panel in page.panels
        ],
    }
    if sheet.fold is not None:
        data["fold"] = sheet.fold
        data["halves"] = [
            {"trim": trim.as_list(), "safe": safe.as_list()} for trim, safe in sheet.halves
        ]
    return data
