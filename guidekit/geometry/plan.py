"""From an issue to its laid-out pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidekit.errors import InputError, Problem
from guidekit.geometry.canvas import Canvas
from guidekit.geometry.page import PagePlan
from guidekit.geometry.pages import page_canvas
from guidekit.geometry.perspective import view_in
from guidekit.geometry.rules import Rules, rules_of
from guidekit.geometry.scroll import scroll_canvases
from guidekit.issue import LoadedIssue, PageEntry
from guidekit.issue.file_names import page_file_name
from guidekit.preset.guides import switched


def plan_issue(file: LoadedIssue, pages: Iterable[int] | None = None) -> tuple[PagePlan, ...]:
    """Every canvas of an issue laid out, or those of the page numbers in `pages`.

    All pages are laid out first whatever is asked for, so that a problem anywhere is told. Raises
    `InputError` with the problems of all pages, each told once for pages alike.
    """
    rules = rules_of(file)
    plans: list[PagePlan] = []
    problems: dict[tuple[str, ...], Problem] = {}
    for entry in file.entries:
        try:
            plans += _plans(entry, file, rules)
        except InputError as error:
            for problem in error.problems:
                problems.setdefault(
                    (entry.where, str(problem)),
                    problem.within(f"{file.path.name}: {entry.where} ({entry.called})"),
                )
    if problems:
        raise InputError(problems.values())
    return tuple(plans) if pages is None else _chosen(plans, set(pages))


def _chosen(plans: list[PagePlan], wanted: set[int]) -> tuple[PagePlan, ...]:
    """The canvases of these pages; raises `InputError` for pages that are not there, or none."""
    missing = sorted(wanted.difference(*(plan.numbers for plan in plans)))
    if missing or not wanted:
        first, *more = missing or [0]
        last = plans[-1].numbers[-1]
        came = f"page {first}{' and others are' if more else ' is'} not in the issue"
        raise InputError(Problem("--pages", came, f"pages 1 to {last}" if last > 1 else "page 1"))
    return tuple(plan for plan in plans if wanted.intersection(plan.numbers))


def _plans(entry: PageEntry, file: LoadedIssue, rules: Rules) -> Iterator[PagePlan]:
    """The canvases of one entry, put together; raises `InputError`."""
    page = entry.page
    if not page.scroll:
        yield _plan(page_canvas(entry, rules), entry, None, file, rules)
        return
    canvases = [*scroll_canvases(page, page.scroll, rules)]
    for number, canvas in enumerate(canvases, 1):
        part = number if len(canvases) > 1 else None
        yield _plan(canvas, entry, part, file, rules)


def _plan(
    canvas: Canvas, entry: PageEntry, part: int | None, file: LoadedIssue, rules: Rules
) -> PagePlan:
    page, boxes = entry.page, canvas.boxes
    spacing = rules.spacing(page, boxes.flip)
    view = None
    if page.perspective:
        view = view_in(boxes.safe_area, page.perspective, rules.book.dpi, "perspective")
    return PagePlan(
        book=rules.book,
        numbers=entry.numbers,
        part=part,
        side=entry.side,
        file_name=page_file_name(file.file_name, entry.numbers, part),
        boxes=boxes,
        across=spacing.gap("across"),
        down=spacing.gap("down"),
        frames=canvas.frames,
        panels=canvas.panels,
        divisions=canvas.divisions,
        screens=canvas.screens,
        view=view,
        guides=switched(rules.preset.guides, file.issue.guides, page.guides),
        note=page.note or "",
    )
