"""One page of the book by itself, cut at its trim: on its canvas, or a half of a spread."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Layer, Stack
from guidekit.overview.colours import INK, PENCIL
from guidekit.overview.numbers import large_numbers
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, points_of
from guidekit.raster.shapes import Rule, Shape, Stroke, outline
from guidekit.raster.text import Text, text_width


def pages_by_number(plans: Sequence[PagePlan]) -> dict[int | str, Stack]:
    """The stack of every page by its number, in pixels of its canvas; parts of scrolls are none.

    The sides of a cover go by their names; the inner one of a cover that wraps round is blank
    where it has no canvas.
    """
    found: dict[int | str, Stack] = {}
    for plan in plans:
        if plan.name:
            found[plan.name] = _cover(plan)
        if plan.part is None:
            boxes = plan.boxes.pages
            backward = plan.book.furniture.right_to_left and len(boxes) > 1
            for number, page in zip(plan.numbers, boxes[::-1] if backward else boxes, strict=False):
                found[number] = _stack(plan, page.trim, number)
    if "cover" in found:
        found.setdefault("inside cover", blank(found["cover"]))
    return found


def blank(size: Stack) -> Stack:
    """An empty page of the size of another."""
    return Stack("", size.canvas, size.dpi, False, 8, size.paper, ())


def _stack(plan: PagePlan, trim: Box, number: int) -> Stack:
    line = max(2, trim.width // 250)
    borders = [
        shape for panel in plan.panels if panel.border for shape in lines_round(panel.sharp, line)
    ]
    note = [plan.note] if plan.note else []
    kind = [] if plan.kind == "story" else [plan.kind]
    words = " · ".join([str(number), *kind, *note])
    members = (
        Layer("Page number", (_in_the_middle(words, trim),), INK),
        Layer("Numbers", tuple(large_numbers(plan)), PENCIL),
        Layer("Borders", tuple(borders), INK),
    )
    return Stack(str(number), trim, plan.book.dpi, False, 8, (255, 255, 255), members)


def _cover(plan: PagePlan) -> Stack:
    """A canvas of the cover with the names of its sides, and where it is folded."""
    pages, trim = plan.boxes.pages, plan.boxes.trim
    line = max(1, pages[0].trim.width // 500)
    names = [plan.name]
    if len(pages) > 1:
        names = [plan.name.replace("cover", side) for side in ("back cover", "front cover")]
        if plan.book.furniture.right_to_left != plan.name.startswith("inside"):
            names.reverse()  # seen from inside, left and right change places
    words = (_in_the_middle(name, page.trim) for name, page in zip(names, pages, strict=True))
    folds = (
        Rule(Box(x - line, trim.top, x + line, trim.bottom), (24 * line, 16 * line))
        for x in plan.boxes.all_folds
    )
    members = (Layer("Words", tuple(words), INK), Layer("Folds", tuple(folds), PENCIL))
    return Stack(plan.name, trim, plan.book.dpi, False, 8, (255, 255, 255), members)


def lines_round(shape: Outline, weight: int) -> Sequence[Shape]:
    """An outline as lines."""
    if isinstance(shape, Box):
        return outline(shape, weight)
    points = points_of(shape)
    ends = zip(points, (*points[1:], points[0]), strict=True)
    return [Stroke(start, end, weight) for start, end in ends]


def _in_the_middle(words: str, trim: Box) -> Text:
    """In the lower margin, smaller where they are long."""
    height = max(5, trim.width // 48)
    width = text_width(words, height)
    if width > trim.width * 0.9:
        height = max(5, int(height * trim.width * 0.9 / width))
    x = (trim.left + trim.right - text_width(words, height)) // 2
    return Text(words, x, trim.bottom - 3 * height // 2, height)
