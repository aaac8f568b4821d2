"""The column of a vertical scroll, cut into canvases so that no panel is cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from guidekit.errors import InputError, Problem
from guidekit.geometry.page_boxes import OnePage, PageBoxes
from guidekit.issue.models.issue import ScrollItem
from guidekit.plane.box import Box
from guidekit.preset import Preset
from guidekit.units import Length, half_up

MOST_SCREENS = 10_000  # of one scroll


@dataclass(frozen=True)
class ItemPlace:
    """Where an item of a scroll lies; `number` counts items from 1."""

    number: int
    item: ScrollItem
    box: Box


class Stretch(NamedTuple):
    """What one canvas holds of a scroll: its boxes, the places on it, and its screens' ends."""

    boxes: PageBoxes
    places: tuple[ItemPlace, ...]
    screens: tuple[int, ...]


def stretches(items: tuple[ScrollItem, ...], preset: Preset) -> tuple[Stretch, ...]:
    """The canvases of a scroll, from the top down; raises `InputError`.

    Heights and gaps are whole pixels at delivery too where the drawing is a whole number of times
    as wide. A canvas ends in the middle of a gap, or as near to it as the largest height allows.
    """
    if not preset.scroll:
        came, allowed = "this preset is for printed pages", "a preset with a [scroll] table"
        todo = f"Take {allowed}, such as vertical-scroll, or give the page tiers."
        raise InputError(Problem(("scroll",), came, allowed, todo))
    column = _Column(preset)
    placed = [*column.places(items)]
    if placed[-1].box.bottom > MOST_SCREENS * column.screen:
        came = f"this scroll has more than {MOST_SCREENS:,} screens"
        raise InputError(Problem(("scroll",), came, todo="Divide it into several pages."))
    cuts = [0]
    column.check(placed[0], 0)
    for above, below in pairwise(placed):
        if below.box.bottom - cuts[-1] > column.tallest:
            cuts.append(column.cut(cuts[-1], above.box, below.box))
        column.check(below, cuts[-1])
    cuts.append(placed[-1].box.bottom)
    return tuple(
        column.canvas(top, bottom, [p for p in placed if top <= p.box.top < bottom])
        for top, bottom in pairwise(cuts)
    )


class _Column:
    def __init__(self, preset: Preset):
        scroll, dpi = preset.scroll, preset.dpi
        assert scroll
        self.preset, self.scroll, self.dpi = preset, scroll, dpi
        self.width = half_up(scroll.width.px(dpi))
        self.tallest = half_up(scroll.canvas_height.px(dpi))
        self.screen = scroll.screen.px(dpi)
        times = Fraction(self.width) / scroll.delivery_width.px(dpi)
        self.step = int(times) if times.denominator == 1 else 1
        self.left = half_up(preset.safe_area.inside.px(dpi))
        self.right = self.width - half_up(preset.safe_area.outside.px(dpi))

    def whole(self, x: Fraction) -> int:
        """Rounded to whole pixels of the delivery."""
        return half_up(x / self.step) * self.step

    def places(self, items: tuple[ScrollItem, ...]) -> Iterator[ItemPlace]:
        """Where each item lies on the whole scroll."""
        at = 0
        for number, item in enumerate(items, 1):
            gap = self.gap(item) if item.gap is not None or number > 1 else 0
            left, right = (0, self.width) if item.full else (self.left, self.right)
            height = self.height(item, right - left)
            if height < 1:
                came = f"this panel would be {height} px high"
                raise InputError(Problem(("scroll", number - 1), came, "a height of at least 1 px"))
            at += gap
            yield ItemPlace(number, item, Box(left, at, right, at + height))
            at += height

    def gap(self, item: ScrollItem) -> int:
        length = item.gap
        if not isinstance(length, Length):
            length = getattr(self.scroll.gaps, length or "normal")
        return self.whole(length.px(self.dpi))

    def height(self, item: ScrollItem, width: int) -> int:
        if item.ratio is not None:
            return self.whole(width / item.ratio)
        if isinstance(item.height, Length):
            return self.whole(item.height.px(self.dpi))
        return self.whole((item.height or 0) * self.screen)

    def cut(self, top: int, above: Box, below: Box) -> int:
        """Where a canvas that begins at `top` ends, between two places."""
        middle = self.whole(Fraction(above.bottom + below.top, 2))
        last = min(below.top, top + self.tallest)
        cut = max(above.bottom, min(middle, last))
        return max(cut, below.bottom - self.tallest) if below.bottom - self.tallest <= last else cut

    def check(self, place: ItemPlace, top: int) -> None:
        """A place fits on a canvas that begins at `top`; raises `InputError`."""
        height = place.box.bottom - top
        if height > self.tallest:
            came = f"this panel with the gap before it takes {height} px of one canvas"
            allowed = f"at most {self.tallest} px, the preset's scroll.canvas_height"
            todo = f"Make it or the gap lower: {allowed}. Or raise that, if your app opens as much."
            raise InputError(Problem(("scroll", place.number - 1), came, allowed, todo))

    def canvas(self, top: int, bottom: int, placed: list[ItemPlace]) -> Stretch:
        """One canvas, from `top` to `bottom` of the whole scroll."""
        canvas = Box(0, 0, self.width, bottom - top)
        safe = Box(self.left, 0, self.right, bottom - top)
        boxes = PageBoxes(canvas, canvas, canvas, safe, (OnePage(canvas, safe),))
        places = tuple(replace(place, box=place.box.shifted(0, -top)) for place in placed)
        return Stretch(boxes, places, screen_ends(self.screen, top, bottom))


def screen_ends(screen: Fraction, top: int, bottom: int) -> tuple[int, ...]:
    """Where screens end between `top` and `bottom` of the whole scroll, in pixels from `top`."""
    numbers = range(int(top // screen) + 1, int(bottom // screen) + 1)
    ends = (half_up(k * screen) - top for k in numbers)
    return tuple(end for end in ends if 0 < end < bottom - top)
