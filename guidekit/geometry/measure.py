"""The numbers of a laid-out page as plain data, for people and programs to read."""

from __future__ import annotations

from typing import Any

from guidekit.geometry.page import PagePlan, Panel
from guidekit.plane.box import Box
from guidekit.plane.ellipse import Ellipse
from guidekit.plane.outline import Outline, box_of
from guidekit.plane.polygon import Point, Points


def measured(page: PagePlan) -> dict[str, Any]:
    """All boxes in canvas pixels, half-open ``[left, top, right, bottom]``.

    ``pages`` are page numbers; where a page takes several canvases, ``part`` counts them from 1.
    A panel that is no box has ``corners`` as well, [x, y] to a thousandth of a pixel, and a
    ``radius`` if they are rounded, or it is an ``ellipse`` with its ``middle``, its ``radii``
    across and down, and its ``tilt`` in degrees, as the clock runs. Sides that bend are ``arcs``,
    each as the corner where it begins, a point on it and the corner where it ends. ``cut_out`` are
    the boxes round what panels above and their margins take, ``figures`` what breaks out of it.
    ``empty`` are the boxes of places without a panel.
    ``folios`` are page numbers to print, ``creep_mm`` how far folding pushes the page out.
    A canvas of the ``cover`` has no page numbers; ``folds`` are the x of its folds.
    """
    boxes = page.boxes
    data: dict[str, Any] = {
        "pages": list(page.numbers),
        **({"cover": page.name} if page.name else {}),
        **({} if page.part is None else {"part": page.part}),
        "side": page.side,
        "file_name": page.file_name,
        "dpi": page.book.dpi,
        "canvas": [boxes.canvas.width, boxes.canvas.height],
        "bleed": boxes.bleed.as_list(),
        "trim": boxes.trim.as_list(),
        "safe_area": boxes.safe_area.as_list(),
        "gutter": {"across": page.across, "down": page.down},
        "border": page.book.border,
        "panels": [_panel(panel) for panel in page.panels],
    }
    if page.empty:
        data["empty"] = [box_of(place).as_list() for place in page.empty]
    if page.kind != "story":
        data["kind"] = page.kind
    if page.section:
        data["section"] = page.section
    if page.folios:
        data["folios"] = [folio.words for folio in page.folios]
    if page.creep:
        data["creep_mm"] = float(page.creep)
    if page.screens:
        data["screens"] = list(page.screens)
    if boxes.spine:
        data["spine"] = boxes.spine.as_list()
        data["folds"] = list(boxes.folds)
    if boxes.barcode:
        data["barcode"] = boxes.barcode.as_list()
    if boxes.fold is not None:
        data["fold"] = boxes.fold
        data["halves"] = [
            {"trim": one.trim.as_list(), "safe_area": one.safe_area.as_list()}
            for one in boxes.pages
        ]
    return data


def _panel(panel: Panel) -> dict[str, Any]:
    data: dict[str, Any] = {"number": panel.number, "box": panel.box.as_list()}
    if panel.bleed:
        data["bleed"] = sorted(panel.bleed)
    data |= _shape(panel.sharp, panel.ellipse, panel.arcs)
    if panel.radius:
        data["radius"] = panel.radius
    if panel.level:
        data["level"] = panel.level
    if panel.cut_out:
        data["cut_out"] = [box_of(cut).as_list() for cut in panel.cut_out]
    if panel.figures:
        data["figures"] = [
            {"name": figure.name, "box": box_of(figure.outline).as_list()}
            | _shape(figure.outline, figure.ellipse)
            for figure in panel.figures
        ]
    return data


def _shape(
    sharp: Outline, ellipse: Ellipse | None, arcs: tuple[Points, ...] = ()
) -> dict[str, Any]:
    """The corners or the curve of what is no box."""
    if ellipse:
        radii = [round(ellipse.across, 3), round(ellipse.down, 3)]
        return {
            "ellipse": {"middle": _rounded(ellipse.middle), "radii": radii, "tilt": ellipse.degrees}
        }
    if isinstance(sharp, Box):
        return {}
    between = {point for arc in arcs for point in arc[1:-1]}
    data: dict[str, Any] = {"corners": [_rounded(p) for p in sharp if p not in between]}
    if arcs:
        data["arcs"] = [[_rounded(arc[i]) for i in (0, len(arc) // 2, -1)] for arc in arcs]
    return data


def _rounded(point: Point) -> list[float]:
    return [round(at, 3) + 0 for at in point]  # and no -0.0
