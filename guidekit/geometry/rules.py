"""What all pages of an issue are laid out by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guidekit.geometry.book import Book, book_of
from guidekit.geometry.page_boxes import PageBoxes, page_boxes_for
from guidekit.geometry.setting import Setting
from guidekit.geometry.spacing import Spacing
from guidekit.issue import LoadedIssue
from guidekit.issue.layouts import Layouts
from guidekit.issue.model import Page, Part
from guidekit.issue.order import SIDES, Side
from guidekit.issue.reading import Reader
from guidekit.preset import Preset
from guidekit.units import half_up


@dataclass(frozen=True)
class Rules:
    """The preset, the layouts that pages may name, the direction of reading, the boxes by side."""

    book: Book
    preset: Preset
    layouts: Layouts
    direction: str
    boxes: Mapping[Side, PageBoxes]

    def reader(self, spread: bool = False) -> Reader:
        """What reads the parts of one page; on a `spread` layouts for spreads have their place."""
        return Reader(self.layouts, self.direction, spread)

    def spacing(self, part: Part, flip: bool) -> Spacing:
        """The gutters of a page, or of one of its parts."""
        gutter = part.gutter or self.preset.gutter
        return Spacing(gutter, self.book.dpi, self.preset.spare_pixels == "margin", flip)

    def setting(self, page: Page, boxes: PageBoxes) -> Setting:
        """What holds for the panels of a page."""
        radius = self.preset.radius if page.radius is None else page.radius
        gap = self.spacing(page, boxes.flip).gap("across")
        dpi = self.book.dpi
        return Setting(boxes.bleed, boxes.flip, dpi, self.book.border, half_up(radius.px(dpi)), gap)


def rules_of(file: LoadedIssue) -> Rules:
    """The rules of an issue."""
    boxes = {side: page_boxes_for(file.preset, side, file.direction) for side in SIDES}
    return Rules(book_of(file), file.preset, file.layouts, file.direction, boxes)
