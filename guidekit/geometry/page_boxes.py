"""The pixel grid of a page format: canvas, bleed, trim and safe area of every kind of page.

The outer box of a page is rounded once; every edge inside is then rounded half up from its exact
absolute position. This is done for a right page, whose fold is on its left; a left page is its
mirror image, pixel by pixel, and a spread is both, without what lies beyond the fold.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from guidekit.plane.box import Box
from guidekit.preset import Preset
from guidekit.units import half_up


@dataclass(frozen=True)
class OnePage:
    """The boxes of one page alone, in pixels of its canvas.

    `flip` says that its inside, toward the fold, is on the right.
    """

    trim: Box
    safe_area: Box
    flip: bool = False

    def mirrored(self, width: int) -> OnePage:
        """The same seen in a mirror, on a canvas `width` wide."""
        return OnePage(self.trim.mirrored(width), self.safe_area.mirrored(width), not self.flip)


@dataclass(frozen=True)
class PageBoxes:
    """One canvas and the boxes on it, in pixels; `fold` is the x of the fold of a spread.

    `safe_area` of a spread reaches across the fold; `pages` are the page or, from the left, the two
    pages that the canvas holds. `flip` says that what lies across is laid out from the right: there
    is the inside of a page, or of a spread the side where reading begins. A cover that wraps round
    has a `spine` and is folded at the x of its `folds`; `barcode` is a place kept clear.
    """

    canvas: Box
    bleed: Box
    trim: Box
    safe_area: Box
    pages: tuple[OnePage, ...]
    flip: bool = False
    fold: int | None = None
    folds: tuple[int, ...] = ()
    spine: Box | None = None
    barcode: Box | None = None

    @property
    def all_folds(self) -> tuple[int, ...]:
        """The x of every fold, of a spread or of a cover."""
        return self.folds if self.fold is None else (self.fold,)

    def mirrored(self) -> PageBoxes:
        """The facing page."""
        width = self.canvas.width
        return replace(
            self,
            bleed=self.bleed.mirrored(width),
            trim=self.trim.mirrored(width),
            safe_area=self.safe_area.mirrored(width),
            pages=tuple(page.mirrored(width) for page in self.pages),
            flip=not self.flip,
        )


def page_boxes_for(preset: Preset, side: str, direction: str) -> PageBoxes:
    """The canvas for a page on this side; a single page has its inside where reading begins."""
    if side == "spread":
        return _spread(preset, flip=direction == "rtl")
    inside_left = side == "right" or (side == "single" and direction == "ltr")
    page = _page(preset)
    return page if inside_left else page.mirrored()


def _page(preset: Preset) -> PageBoxes:
    """A page with its inside on the left."""
    x = _edges(preset, "width", "inside", "outside")
    y = _edges(preset, "height", "top", "bottom")
    canvas, bleed, trim, safe = (
        Box(half_up(x[i]), half_up(y[i]), half_up(x[-1 - i]), half_up(y[-1 - i])) for i in range(4)
    )
    return PageBoxes(canvas, bleed, trim, safe, (OnePage(trim, safe),))


def _edges(preset: Preset, axis: str, near: str, far: str) -> list[Fraction]:
    """Exact positions along one axis: canvas, bleed, trim, safe, and the same back outward."""
    dpi = preset.dpi
    trim = getattr(preset.page_size, axis).px(dpi)
    bleed = [getattr(preset.bleed, edge).px(dpi) for edge in (near, far)]
    safe = [getattr(preset.safe_area, edge).px(dpi) for edge in (near, far)]
    canvas = bleed[0] + trim + bleed[1]
    begin = bleed[0]
    if preset.sheet:  # the trim lies in the middle of a larger sheet
        canvas = getattr(preset.sheet, axis).px(dpi)
        begin = (canvas - trim) / 2
    end = begin + trim
    zero = Fraction(0)
    inward = [zero, begin - bleed[0], begin, begin + safe[0]]
    return [*inward, end - safe[1], end, end + bleed[1], canvas]


def _spread(preset: Preset, flip: bool) -> PageBoxes:
    """Two facing pages on one canvas, without bleed at the fold: each cut off at its inside trim.

    Each half is pixel for pixel the single page. So the canvas is twice a rounded half, which may
    differ by a pixel from the size that both trims and bleeds have if they are rounded once.
    """
    page = _page(preset)
    fold = page.canvas.right - page.trim.left
    width, by = 2 * fold, fold - page.trim.left

    def whole(box: Box) -> Box:
        right = box.shifted(by, 0)
        return Box(width - right.right, box.top, right.right, box.bottom)

    right = OnePage(page.trim.shifted(by, 0), page.safe_area.shifted(by, 0))
    return PageBoxes(
        Box(0, 0, width, page.canvas.height),
        whole(page.bleed),
        whole(page.trim),
        whole(page.safe_area),
        (right.mirrored(width), right),
        flip,
        fold,
    )
