"""A page, small, and a problem, as plain data: the browser draws and tells them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from guidekit.errors import Problem, key_text, sentence
from guidekit.plane.outline import points_of
from guidekit.planner.planned_page import PlannedPage

Data = dict[str, Any]


def picture_of(sheet: PlannedPage) -> Data:
    """The trim of a page and the corners of its panels, all canvases of a scroll below each other.

    Pixels of the canvas, whole ones.
    """
    width = max(canvas.boxes.canvas.width for canvas in sheet.canvases)
    height, panels = 0, []
    for canvas in sheet.canvases:
        panels += [_flat(points_of(panel.outline), height) for panel in canvas.panels]
        height += canvas.boxes.canvas.height
    boxes = sheet.canvas.boxes
    trim = boxes.trim.as_list() if len(sheet.canvases) == 1 else [0, 0, width, height]
    return {"size": [width, height], "trim": trim, "fold": boxes.fold, "panels": panels}


def _flat(points: Iterable[tuple[float, float]], down: int = 0) -> list[int]:
    return [round(x) for point in points for x in (point[0], point[1] + down)]


def problem_data(problem: Problem) -> Data:
    """A problem as the browser shows it."""
    page = problem.key[1] if problem.key[:1] == ("pages",) and len(problem.key) > 1 else None
    return {
        "line": problem.line,
        "key": key_text(problem.key),
        "told": sentence(problem),
        "page": page,
    }


def plain(value: Any) -> Any:
    """Data that JSON can hold: dates and times of a strange file as text."""
    if isinstance(value, Mapping):
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    return value if value is None or isinstance(value, (str, int, float, bool)) else str(value)
