"""What all pages of an issue are laid out by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from guidekit.errors import InputError
from guidekit.geometry.book import Book, book_of, border_weight
from guidekit.geometry.creep import creep_of_pages, less_creep
from guidekit.geometry.division.spacing import Spacing
from guidekit.geometry.page_boxes import PageBoxes, page_boxes_for
from guidekit.geometry.panels.setting import Setting
from guidekit.issue import LoadedIssue
from guidekit.issue.layouts import Layouts
from guidekit.issue.models.book import Binding, Folios
from guidekit.issue.models.issue import Page
from guidekit.issue.models.part import Part
from guidekit.issue.order import SIDES, PageEntry, Side
from guidekit.issue.printed_numbers import printed_numbers, section_titles
from guidekit.issue.reading import Reader
from guidekit.preset import Preset
from guidekit.preset.fits import problems_of
from guidekit.preset.sizes import ZERO
from guidekit.units import half_up


@dataclass(frozen=True)
class Rules:
    """The preset, the layouts that pages may name, the direction of reading, the boxes by side.

    By page number: `creep` the millimetres by which folding pushes it out, `numbers` what is
    printed on it as its number, `sections` the title of the section that begins there.
    """

    book: Book
    preset: Preset
    binding: Binding | None
    folios: Folios | None
    layouts: Layouts
    direction: str
    boxes: Mapping[Side, PageBoxes]
    creep: Mapping[int, Fraction]
    numbers: Mapping[int, str]
    sections: Mapping[int, str]

    def creep_of(self, entry: PageEntry) -> Fraction:
        """How far folding pushes a page out, in millimetres; of a spread the page it moves more."""
        return max(self.creep.get(number, Fraction(0)) for number in entry.numbers)

    def taken_off(self, entry: PageEntry) -> Fraction:
        """The millimetres by which a safe area is narrower: the creep, where the issue asks so."""
        asked = self.binding and self.binding.creep_in_safe_area
        return self.creep_of(entry) if asked else Fraction(0)

    def boxes_of(self, entry: PageEntry) -> PageBoxes:
        """The canvas of a page or spread."""
        if not (creep := self.taken_off(entry)):
            return self.boxes[entry.side]
        return page_boxes_for(less_creep(self.preset, creep), entry.side, self.direction)

    def of(self, page: Page) -> Rules:
        """The rules of one page, with what it has of its own; raises `InputError`."""
        own = {"safe_area": page.safe_area, "paper": page.paper}
        changes = {key: value for key, value in own.items() if value is not None}
        if not changes and page.borders is None:
            return self
        preset = self.preset.model_copy(update=changes)
        if wrong := [x for x in problems_of(preset) if x.key[0] in changes]:
            raise InputError(replace(problem, also=()) for problem in wrong)
        boxes = _boxes(preset, self.direction) if page.safe_area else self.boxes
        furniture = replace(self.book.furniture, paper=preset.paper)
        book = replace(self.book, furniture=furniture)
        if page.borders is not None:
            border = preset.border if page.borders is True else page.borders or ZERO
            book = replace(book, border=border_weight(border, book.dpi))
        return replace(self, book=book, preset=preset, boxes=boxes)

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
        border = self.book.border
        ruled = border or border_weight(self.preset.border, dpi)
        return Setting(boxes, dpi, border, ruled, half_up(radius.px(dpi)), gap)


def rules_of(file: LoadedIssue) -> Rules:
    """The rules of an issue."""
    boxes = _boxes(file.preset, file.direction)
    return Rules(
        book_of(file),
        file.preset,
        file.issue.binding,
        file.issue.folios,
        file.layouts,
        file.direction,
        boxes,
        creep_of_pages(file),
        printed_numbers(file.entries, file.issue.folios) if file.issue.folios else {},
        section_titles(file.entries),
    )


def _boxes(preset: Preset, direction: str) -> dict[Side, PageBoxes]:
    return {side: page_boxes_for(preset, side, direction) for side in SIDES}
