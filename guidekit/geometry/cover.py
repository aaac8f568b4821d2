"""The canvases of a cover: each side by itself, or back, spine and front as one that wraps round.

In right-to-left books the front is on the left of the spine.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate
from typing import Literal, NamedTuple

from guidekit.geometry.page import PagePlan
from guidekit.geometry.page_boxes import OnePage, PageBoxes
from guidekit.geometry.rules import Rules
from guidekit.issue import LoadedIssue
from guidekit.issue.binding import spine_of
from guidekit.issue.file_names import cover_file_name
from guidekit.issue.models.book import Cover
from guidekit.plane.box import Box
from guidekit.preset.guides import switched
from guidekit.units import half_up


class _Side(NamedTuple):
    """A side of a cover: what it is called, whether the barcode is on it, on which side it lies.

    One that wraps round lies on both.
    """

    name: str
    barcode: bool
    side: Literal["left", "right"] | None = None


def cover_plans(file: LoadedIssue, rules: Rules) -> Iterator[PagePlan]:
    """The canvases of an issue's cover; none if it has none."""
    cover = file.issue.cover
    if not cover:
        return
    for name, barcode, side in _sides(cover, file.direction):
        boxes = rules.boxes[side] if side else wrapped(file, rules)
        yield PagePlan(
            book=rules.book,
            numbers=(),
            part=None,
            side=side or "cover",
            file_name=cover_file_name(file.file_name, name),
            boxes=_with_barcode(boxes, cover, file) if barcode else boxes,
            across=0,
            down=0,
            frames=(),
            panels=(),
            guides=switched(rules.preset.guides, file.issue.guides, cover.guides),
            name=name,
        )


def _sides(cover: Cover, direction: str) -> Iterator[_Side]:
    """Outside before inside, front before back.

    What is right of the spine in one direction of reading is left of it in the other.
    """
    if cover.wrap:
        yield _Side("cover", True)
        if cover.inside:
            yield _Side("inside cover", False)
        return
    first: Literal["left", "right"] = "right" if direction == "ltr" else "left"  # as page 1
    facing: Literal["left", "right"] = "left" if direction == "ltr" else "right"
    yield _Side("front cover", False, first)
    if cover.inside:
        yield _Side("inside front cover", False, facing)
        yield _Side("inside back cover", False, first)
    yield _Side("back cover", True, facing)


def wrapped(file: LoadedIssue, rules: Rules) -> PageBoxes:
    """Bleed, flap, page, spine, page, flap, bleed: each edge rounded from its exact place."""
    preset, dpi = file.preset, file.preset.dpi
    cover, page = file.issue.cover, preset.page_size
    spine = spine_of(file.issue, file.pages)
    assert cover  # both are there, as was checked when the issue was read
    assert spine
    bleed, flap = preset.bleed.outside.px(dpi), cover.flaps.px(dpi)
    parts = [bleed, flap, page.width.px(dpi), spine.px(dpi), page.width.px(dpi), flap, bleed]
    exact = [*accumulate(parts, initial=Fraction(0))]
    start, cut, left_end, spine_left, spine_right, right_end, far_cut, end = map(half_up, exact)
    boxes = rules.boxes["right"]
    upper, lower = boxes.trim.top - boxes.bleed.top, boxes.trim.bottom - boxes.bleed.top
    height = boxes.bleed.height
    safe_top = boxes.safe_area.top - boxes.bleed.top
    safe_bottom = boxes.safe_area.bottom - boxes.bleed.top
    inside, outside = (getattr(preset.safe_area, edge).px(dpi) for edge in ("inside", "outside"))

    def one(left: int, right: int, safe: tuple[Fraction, Fraction], flip: bool) -> OnePage:
        safe_area = Box(half_up(safe[0]), safe_top, half_up(safe[1]), safe_bottom)
        return OnePage(Box(left, upper, right, lower), safe_area, flip)

    on_left = one(left_end, spine_left, (exact[2] + outside, exact[3] - inside), True)
    on_right = one(spine_right, right_end, (exact[4] + inside, exact[5] - outside), False)
    folds = {spine_left, spine_right, *((left_end, right_end) if flap else ())}
    return PageBoxes(
        Box(start, 0, end, height),
        Box(start, 0, end, height),
        Box(cut, upper, far_cut, lower),
        Box(on_left.safe_area.left, safe_top, on_right.safe_area.right, safe_bottom),
        (on_left, on_right),
        folds=tuple(sorted(folds)),
        spine=Box(spine_left, upper, spine_right, lower),
    )


def _with_barcode(boxes: PageBoxes, cover: Cover, file: LoadedIssue) -> PageBoxes:
    """The keep-clear box in the corner of the back cover that is below, toward the spine."""
    if not cover.barcode:
        return boxes
    dpi, width, height = file.preset.dpi, cover.barcode.width, cover.barcode.height
    back = boxes.pages[0 if file.direction == "ltr" else -1]
    safe, across = back.safe_area, half_up(width.px(dpi))
    left = safe.right - across if back.flip else safe.left
    box = Box(left, safe.bottom - half_up(height.px(dpi)), left + across, safe.bottom)
    return replace(boxes, barcode=box)
