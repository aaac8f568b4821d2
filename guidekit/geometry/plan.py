"""From an issue to its laid-out pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.canvas import Canvas
from guidekit.geometry.cover import cover_plans
from guidekit.geometry.folio import folios_on
from guidekit.geometry.page import PagePlan
from guidekit.geometry.pages import page_canvas
from guidekit.geometry.panels.perspective import view_in
from guidekit.geometry.rules import Rules, rules_of
from guidekit.geometry.scroll import scroll_canvases
from guidekit.issue import LoadedIssue, PageEntry
from guidekit.issue.file_names import page_file_name
from guidekit.issue.models.by_side import written_at
from guidekit.plane.outline import points_of
from guidekit.preset.guides import switched
from guidekit.toml import Origin, located

#: Numbers of pages, or what makes them from the number of the last page.
Pages = Iterable[int] | Callable[[int], Iterable[int]]


#: Keys of a page that change nothing of where its panels lie.
APART = {"count", "note", "guides", "perspective", "reveal", "section", "folio"}
MOST_PANELS = 20_000  # of an issue, on few pages that are not alike
PANEL = 20  # corners that take as long as a panel takes beside its own
LARGEST = MOST_PANELS * (PANEL + 4)  # counted in corners
PAGE = 4 * (PANEL + 4)  # a page takes as long as four panels beside its own


def plan_issue(file: LoadedIssue, pages: Pages | None = None) -> tuple[PagePlan, ...]:
    """Every canvas of an issue laid out, or those of the page numbers in `pages`; see `Pages`.

    The canvases of its cover come last, and only with all pages.
    All pages are laid out first whatever is asked for, so that a problem anywhere is told. Raises
    `InputError` with the problems of all pages, each told once for pages alike.
    """
    rules = rules_of(file)
    canvases_of = _Alike(file, rules)
    plans: list[PagePlan] = []
    problems: dict[tuple[Key, str], Problem] = {}
    for entry in file.entries:
        if canvases_of.size > LARGEST:
            came = (
                "these pages, which are not alike, take as much work as more than "
                f"{MOST_PANELS:,} panels"
            )
            problem = Problem(("pages",), came, todo="Divide the issue into several.")
            problems[problem.key, came] = problem
            break
        try:
            plans += _plans(entry, canvases_of(entry), file, rules)
        except InputError as error:
            for problem in error.problems:
                told = replace(in_issue(problem, entry, file), pages=entry.numbers)
                problems.setdefault((entry.key, str(problem)), told)
    if problems:
        raise InputError(located(problems.values(), Origin(file.file)))
    return chosen((*plans, *cover_plans(file, rules)), pages)


def chosen(plans: tuple[PagePlan, ...], pages: Pages | None) -> tuple[PagePlan, ...]:
    """Those of an issue's canvases that have `pages`, all if None.

    Raises `InputError` for pages that are not there, or none.
    """
    if pages is None:
        return plans
    last = max(number for plan in plans for number in plan.numbers)
    wanted = set(pages(last) if callable(pages) else pages)
    missing = sorted(wanted.difference(*(plan.numbers for plan in plans)))
    if missing or not wanted:
        came = "no page is asked for"
        if missing:
            came = (
                f"page {missing[0]}{' and others are' if missing[1:] else ' is'} not in the issue"
            )
        allowed = f"pages from 1 to {last}" if last > 1 else "page 1"
        raise InputError(Problem((), came, allowed, f"Take {allowed}.", argument="pages"))
    return tuple(plan for plan in plans if wanted.intersection(plan.numbers))


def in_issue(problem: Problem, entry: PageEntry, file: LoadedIssue) -> Problem:
    """A problem of a page with its key from the top of the issue's file.

    Of a layout that is not in the file, and of a panel of which it says nothing, the page tells.
    """
    key, came = problem.key, problem.came
    if key[:1] == ("layouts",):
        if key[1] in file.issue.layouts:
            return problem
        came = f"in the layout {key[1]}, {came}"
        key = ("panels",) if entry.page.panels else ()
    elif "panel" in key and (name := key[key.index("panel") + 1]) not in entry.page.panel:
        came, key = f"in panel {name}, {came}", key[: key.index("panel")]
    key = written_at(file.file.at(entry.key), entry.side, key)
    return replace(problem, key=(*entry.key, *key), came=came)


class _Alike:
    """The canvases of pages, of pages alike on the same side the same."""

    def __init__(self, file: LoadedIssue, rules: Rules):
        self.file, self.rules = file, rules
        self.known: dict[tuple[str, str, Fraction], tuple[Canvas, ...] | InputError] = {}
        self.size = 0

    def __call__(self, entry: PageEntry) -> tuple[Canvas, ...]:
        """The canvases of one entry; raises `InputError`."""
        table = self.file.file.at(entry.key)
        if isinstance(table, dict):  # and not a bare number or the name of a layout
            table = {key: value for key, value in table.items() if key not in APART}
        alike = (entry.side, repr(table), self.rules.taken_off(entry))
        if alike not in self.known:
            try:
                self.known[alike] = self._new(entry)
            except InputError as error:
                self.known[alike] = error
        found = self.known[alike]
        if isinstance(found, InputError):
            raise found
        return found

    def _new(self, entry: PageEntry) -> tuple[Canvas, ...]:
        page, rules = entry.page, self.rules.of(entry.page)
        self.size += PAGE
        if page.scroll:
            canvases = tuple(scroll_canvases(page, page.scroll, rules))
        else:
            canvases = (page_canvas(entry, rules),)
        panels = [panel for canvas in canvases for panel in canvas.panels]
        self.size += sum(PANEL + len(points_of(panel.outline)) for panel in panels)
        self.size += sum(len(points_of(cut)) for panel in panels for cut in panel.cut_out) // 5
        return canvases


def _plans(
    entry: PageEntry, canvases: tuple[Canvas, ...], file: LoadedIssue, rules: Rules
) -> Iterator[PagePlan]:
    """The canvases of one entry, put together; raises `InputError`."""
    rules = rules.of(entry.page)
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
        view = view_in(boxes.safe_area, page.perspective, rules.book.dpi, ("perspective",))
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
        empty=canvas.empty,
        view=view,
        guides=switched(rules.preset.guides, file.issue.guides, page.guides),
        note=page.note or "",
        kind=page.kind,
        section=rules.sections.get(entry.numbers[0], ""),
        reveal=page.reveal,
        folios=folios_on(entry, boxes, rules),
        creep=rules.creep_of(entry),
    )
