"""From an issue to its laid-out pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count

from guidekit.errors import InputError, Problem, one_of
from guidekit.geometry.arrange import Arrangement, Division, Placed, Spacing, arrange
from guidekit.geometry.book import book_of
from guidekit.geometry.edges import Setting, touching_edges
from guidekit.geometry.page import PagePlan, Panel
from guidekit.geometry.page_boxes import PageBoxes, page_boxes_for
from guidekit.geometry.panels import make_panels
from guidekit.geometry.perspective import view_in
from guidekit.geometry.scroll import screen_ends, scroll_parts
from guidekit.issue import LoadedIssue, PageEntry
from guidekit.issue.file_names import page_file_name
from guidekit.issue.layouts import Layouts
from guidekit.issue.model import Page, Part
from guidekit.issue.order import called
from guidekit.issue.panel_model import PanelModel
from guidekit.issue.reading import read_part
from guidekit.plane.box import Box, around
from guidekit.preset.guides import switched
from guidekit.units import half_up


def plan_issue(file: LoadedIssue, pages: Iterable[int] | None = None) -> tuple[PagePlan, ...]:
    """Every canvas of an issue laid out, or those that hold one of `pages`.

    All pages are laid out first whatever is asked for, so that a problem anywhere is told. Raises
    `InputError` with the problems of all pages, each told once for pages alike.
    """
    wanted = None if pages is None else set(pages)
    planner = _Planner(file)
    plans: list[PagePlan] = []
    problems: dict[tuple[str, ...], Problem] = {}
    last = 0
    for entry in file.entries:
        try:
            for plan in planner.canvases(entry):
                last = plan.numbers[-1]
                if wanted is None or wanted.intersection(plan.numbers):
                    plans.append(plan)
        except InputError as error:
            for problem in error.problems:
                problems.setdefault(
                    (entry.where, str(problem)),
                    problem.within(f"{file.path.name}: {entry.where} ({planner.called(entry)})"),
                )
    if problems:
        raise InputError(problems.values())
    missing = sorted(wanted.difference(*(plan.numbers for plan in plans))) if wanted else []
    if missing or not plans:
        first, *more = missing or [0]
        came = f"page {first}{' and others are' if more else ' is'} not in the issue"
        raise InputError(Problem("--pages", came, f"pages 1 to {last}" if last > 1 else "page 1"))
    return tuple(plans)


class _Planner:
    """Lays out the entries of one issue; a scroll may add canvases that later numbers count."""

    def __init__(self, file: LoadedIssue):
        self.file = file
        self.preset = file.preset
        self.book = book_of(file)
        self.layouts = Layouts(file.issue.layouts)
        self.boxes_of_side: dict[str, PageBoxes] = {}
        self.added = 0

    def called(self, entry: PageEntry) -> str:
        """The entry's page or pages, counting the canvases that scrolls before it took."""
        return called(tuple(number + self.added for number in entry.numbers))

    def canvases(self, entry: PageEntry) -> Iterator[PagePlan]:
        """The canvases of one entry; raises `InputError` where something cannot fit."""
        if entry.page.scroll:
            yield from self.scroll(entry)
            return
        page = entry.page
        boxes = self.boxes(entry.side)
        arrangements, letters = self.arranged(page, boxes, entry)
        placed = [place for found in arrangements for place in found.panels]
        panels = self.panels(page, placed, letters, boxes, self.flip(entry.side))
        scroll, height = self.preset.scroll, boxes.canvas.height
        screens = screen_ends(scroll.screen.px(self.book.dpi), 0, height) if scroll else ()
        yield self.plan(
            entry,
            page,
            boxes,
            panels,
            frames=tuple(around(p.box for p in found.panels) for found in arrangements),
            divisions=tuple(d for found in arrangements for d in found.divisions),
            screens=screens,
        )

    def boxes(self, side: str) -> PageBoxes:
        """The canvas for a page on this side."""
        if side not in self.boxes_of_side:
            self.boxes_of_side[side] = page_boxes_for(self.preset, side, self.file.direction)
        return self.boxes_of_side[side]

    def arranged(
        self, page: Page, boxes: PageBoxes, entry: PageEntry
    ) -> tuple[list[Arrangement], dict[str, int]]:
        """The panels of a page, or of both halves of a spread."""
        numbers = count(1)
        if not page.halves:
            node, letters = read_part(page, self.layouts, self.file.direction, numbers)
            flip = self.flip(entry.side)
            return [arrange(node, boxes.safe_area, self.spacing(page, flip))], letters
        halves = list(
            zip(page.halves, (one.safe_area for one in boxes.pages), (True, False), strict=True)
        )
        if self.file.direction == "rtl":
            halves.reverse()
        found, letters = [], {}
        for half, frame, flip in halves:
            node, own = read_part(half, self.layouts, self.file.direction, numbers)
            found.append(arrange(node, frame, self.spacing(page, flip)))
            for letter, number in own.items():  # a letter of two maps names neither
                letters[letter] = 0 if letter in letters else number
        return found, letters

    def panels(
        self,
        page: Page,
        placed: list[Placed],
        letters: dict[str, int],
        boxes: PageBoxes,
        flip: bool,
    ) -> tuple[Panel, ...]:
        """Panels with what the page says about single ones."""
        letters = {letter: number for letter, number in letters.items() if number}
        names = {str(place.number): place.number for place in placed} | letters
        numbers = f"1 to {len(placed)}" if len(placed) > 1 else "1"
        known = one_of(letters) if letters else numbers
        problems = [
            Problem(f"panel.{key}", "there is no such panel on the page", known)
            for key in page.panel
            if key not in names
        ]
        problems += [
            Problem(f"insets[{i}].over", f'there is no panel "{key}" on the page', known)
            for i, inset in enumerate(page.insets, 1)
            for key in inset.over
            if key not in names
        ]
        if problems:
            raise InputError(problems)
        special = {names[key]: (key, model) for key, model in page.panel.items()}
        insets = [(inset, tuple(names[key] for key in inset.over)) for inset in page.insets]
        return make_panels(placed, special, insets, self.setting(page, boxes, flip))

    def setting(self, page: Page, boxes: PageBoxes, flip: bool) -> Setting:
        """What holds for the panels of a page."""
        radius = self.preset.radius if page.radius is None else page.radius
        gap = self.spacing(page, flip).gap("across")
        dpi = self.book.dpi
        return Setting(boxes, flip, dpi, self.book.border, half_up(radius.px(dpi)), gap)

    def spacing(self, page: Part, flip: bool) -> Spacing:
        """The gutters of a page."""
        gutter = page.gutter or self.preset.gutter
        return Spacing(gutter, self.book.dpi, self.preset.spare_pixels == "margin", flip)

    def flip(self, side: str) -> bool:
        """True if the fold is on the right."""
        return side == "left" or (side in ("single", "spread") and self.file.direction == "rtl")

    def scroll(self, entry: PageEntry) -> Iterator[PagePlan]:
        """The canvases of a scroll."""
        page, numbers = entry.page, count(1)
        assert page.scroll
        for index, part in enumerate(scroll_parts(page.scroll, self.preset)):
            self.added += index > 0
            setting = self.setting(page, part.boxes, flip=False)
            panels: list[Panel] = []
            divisions: list[Division] = []
            for number, item, box in part.items:
                try:
                    direction = self.file.direction
                    node, _ = read_part(item.inside, self.layouts, direction, numbers, "across")
                    found = arrange(node, box, self.spacing(item.inside, flip=False))
                    edges = {
                        p.number: (str(p.number), _at_sides(p, box))
                        for p in found.panels
                        if item.full
                    }
                    panels += make_panels(found.panels, edges, [], setting)
                except InputError as error:
                    where = f"scroll[{number}].inside"
                    raise InputError(problem.within(where) for problem in error.problems) from None
                divisions += found.divisions
            frames = tuple(box for _, _, box in part.items)
            yield self.plan(
                entry,
                page,
                part.boxes,
                tuple(panels),
                frames=frames,
                divisions=tuple(divisions),
                screens=part.screens,
            )

    def plan(
        self,
        entry: PageEntry,
        page: Page,
        boxes: PageBoxes,
        panels: tuple[Panel, ...],
        *,
        frames: tuple[Box, ...],
        divisions: tuple[Division, ...],
        screens: tuple[int, ...],
    ) -> PagePlan:
        """One canvas put together."""
        numbers = tuple(number + self.added for number in entry.numbers)
        spacing = self.spacing(page, flip=False)
        view = None
        if page.perspective:
            view = view_in(boxes.safe_area, page.perspective, self.book.dpi, "perspective")
        return PagePlan(
            book=self.book,
            numbers=numbers,
            side=entry.side,
            file_name=page_file_name(self.file.file_name, numbers),
            boxes=boxes,
            across=spacing.gap("across"),
            down=spacing.gap("down"),
            frames=frames,
            panels=panels,
            divisions=divisions,
            screens=screens,
            view=view,
            guides=switched(self.preset.guides, self.file.issue.guides, page.guides),
            note=page.note or "",
        )


def _at_sides(place: Placed, box: Box) -> PanelModel:
    """A panel of a full-width place runs off the canvas on the sides where it ends."""
    sides = {"left": "inside", "right": "outside"}  # as on a page whose fold is on the left
    return PanelModel(bleed=[sides[edge] for edge in touching_edges(place, box) if edge in sides])
