"""From an issue to its laid-out pages."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from guidekit.errors import InputError, Problem, one_of
from guidekit.geometry.arrange import Spacing, arrange
from guidekit.geometry.box import Box
from guidekit.geometry.page import Book, PagePlan, Panel
from guidekit.geometry.reading import read_part
from guidekit.geometry.sheet import Sheet, sheet_for
from guidekit.issue import IssueFile, PageEntry
from guidekit.issue.model import PanelModel
from guidekit.issue.order import page_stem
from guidekit.preset.model import Gutter
from guidekit.units import half_up


def plan_issue(file: IssueFile, pages: Iterable[int] | None = None) -> tuple[PagePlan, ...]:
    """Every canvas of an issue laid out, or those that hold one of `pages`.

    All pages are laid out first whatever is asked for, so that a problem anywhere is told. Raises
    `InputError` with the problems of all pages, each told once for pages alike.
    """
    wanted = None if pages is None else set(pages)
    book = book_of(file)
    plans: list[PagePlan] = []
    problems: dict[tuple[str, ...], Problem] = {}
    for entry in file.entries:
        try:
            plan = plan_page(file, book, entry)
        except InputError as error:
            for problem in error.problems:
                problems.setdefault(
                    (entry.where, problem.where, problem.allowed),
                    problem.within(f"{file.path.name}: {entry.where} ({entry.called})"),
                )
            continue
        if wanted is None or wanted.intersection(plan.numbers):
            plans.append(plan)
    if problems:
        raise InputError(problems.values())
    if not plans:
        last = file.entries[-1].numbers[-1]
        raise InputError(
            Problem("--pages", "none of these pages is in the issue", f"pages 1 to {last}")
        )
    return tuple(plans)


def plan_page(file: IssueFile, book: Book, entry: PageEntry) -> PagePlan:
    """One canvas laid out; raises `InputError` where something cannot fit."""
    preset, page = file.preset, entry.page
    sheet = sheet_for(preset, entry.side, file.direction)
    gutter = page.gutter or preset.gutter
    spacing = _spacing(file, entry, gutter)
    node, letters = read_part(page, file.direction)
    boxes = arrange(node, sheet.safe, spacing)
    special = _special(page.panel, letters, len(boxes))
    frame = _around(boxes)
    panels = [
        _panel(number, box, special.get(number), frame, sheet, spacing.flip)
        for number, box in boxes
    ]
    return PagePlan(
        book=book,
        numbers=entry.numbers,
        side=entry.side,
        stem=page_stem(file.stem, entry.numbers),
        sheet=sheet,
        across=spacing.across,
        down=spacing.down,
        frame=frame,
        panels=tuple(panels),
        note=page.note or "",
    )


def book_of(file: IssueFile) -> Book:
    """What all canvases of the issue share."""
    issue, preset, dpi = file.issue, file.preset, file.preset.dpi
    return Book(
        title=issue.title,
        number=issue.number,
        preset=file.preset_name,
        preset_title=preset.title,
        font=file.font,
        paper=preset.paper,
        grey=preset.colour == "grey",
        gutter_cover=preset.gutter_cover,
        drawing=preset.drawing,
        dpi=dpi,
        border=max(1, half_up(preset.border.px(dpi))) if preset.border.value else 0,
        capitals=preset.lettering.capitals.px(dpi),
        space=preset.lettering.space.px(dpi),
        screen=preset.scroll.screen.px(dpi) if preset.scroll else Fraction(0),
    )


def _around(boxes: tuple[tuple[int, Box], ...]) -> Box:
    """The frame that the panels really fill."""
    return Box(
        min(box.left for _, box in boxes),
        min(box.top for _, box in boxes),
        max(box.right for _, box in boxes),
        max(box.bottom for _, box in boxes),
    )


def _spacing(file: IssueFile, entry: PageEntry, gutter: Gutter) -> Spacing:
    dpi = file.preset.dpi
    inside_right = entry.side == "left" or (entry.side == "single" and file.direction == "rtl")
    return Spacing(
        across=half_up(gutter.across.px(dpi)),
        down=half_up(gutter.down.px(dpi)),
        dpi=dpi,
        exact=file.preset.equal == "exact",
        flip=inside_right,
    )


def _special(
    given: dict[str, PanelModel], letters: dict[str, int], panels: int
) -> dict[int, PanelModel]:
    """What is special about panels, by their numbers; keys are numbers or letters of the map."""
    names = letters | {str(number): number for number in range(1, panels + 1)}
    if unknown := [key for key in given if key not in names]:
        known = one_of(letters) if letters else f"1 to {panels}"
        raise InputError(
            Problem(f"panel.{key}", "there is no such panel on the page", known) for key in unknown
        )
    return {names[key]: model for key, model in given.items()}


def _panel(
    number: int, box: Box, special: PanelModel | None, frame: Box, sheet: Sheet, flip: bool
) -> Panel:
    """A panel, run out to the bleed on the sides that ask for it."""
    if not special or not special.bleed:
        return Panel(number, box)
    touching = {
        name
        for name in ("left", "top", "right", "bottom")
        if getattr(box, name) == getattr(frame, name)
    }
    if special.bleed == ("all",):
        sides = touching
    else:
        sides = set().union(*(_edges(s, touching, sheet, flip, number) for s in special.bleed))
    bled = replace(box, **{side: getattr(sheet.bleed, side) for side in sides})
    return Panel(number, bled, tuple(sorted(sides)))


def _edges(side: str, touching: set[str], sheet: Sheet, flip: bool, number: int) -> set[str]:
    """The edges of the canvas that a trade name means here: ``outside`` → ``right``."""
    names = {"top": ["top"], "bottom": ["bottom"], "inside": ["left"], "outside": ["right"]}
    if flip:
        names |= {"inside": ["right"], "outside": ["left"]}
    if sheet.fold is not None:  # a spread has an outside at both ends, and its fold in the middle
        names |= {"inside": [], "outside": ["left", "right"]}
    if found := touching.intersection(names[side]):
        return found
    possible = [name for name, edges in names.items() if touching.intersection(edges)]
    raise InputError(
        Problem(
            f"panel.{number}.bleed",
            f'"{side}", but no edge of the panel lies there at the edge of the frame',
            f"{one_of(possible)} for this panel" if possible else "no side of this panel",
            "Choose a side that is at the edge of the page.",
        )
    )
