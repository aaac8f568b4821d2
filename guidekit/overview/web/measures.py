"""The measures of a page in words, in pixels and in millimetres."""

from __future__ import annotations

from fractions import Fraction

from guidekit.geometry.page import PagePlan
from guidekit.plane.box import Box
from guidekit.units import INCH_IN_MM, decimal


def measures(plan: PagePlan) -> tuple[str, ...]:
    """A line for each: canvas, trim, bleed and safe area, gutters, fold or spine, every panel."""
    boxes, dpi = plan.boxes, plan.book.dpi
    lines = [
        f"canvas {_size(boxes.canvas, dpi)} at {dpi} dpi",
        f"trim {_size(boxes.trim, dpi)}",
    ]
    if boxes.bleed != boxes.trim:
        lines.append(f"bleed {_size(boxes.bleed, dpi)}")
    lines += [f"safe area {_size(one.safe_area, dpi)}" for one in boxes.pages]
    if boxes.spine:
        lines.append(f"spine {_mm(boxes.spine.width, dpi)} mm")
    if plan.panels:
        lines.append(f"gutters {_mm(plan.across, dpi)} mm across, {_mm(plan.down, dpi)} mm down")
    if plan.creep:
        lines.append(f"creep {decimal(plan.creep, 2)} mm")
    return (*lines, *(f"panel {p.number}: {_size(p.box, dpi)}" for p in plan.panels))


def _size(box: Box, dpi: int) -> str:
    px = f"{box.width} × {box.height} px"
    return f"{px}, {_mm(box.width, dpi)} × {_mm(box.height, dpi)} mm"


def _mm(pixels: int, dpi: int) -> str:
    return decimal(Fraction(pixels) * INCH_IN_MM / dpi, 1)
