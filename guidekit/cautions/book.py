"""What the printer and the binder make of a book: page counts, folds, creep, page turns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.issue.binding import how_many, spine_of
from guidekit.issue.folding import (
    MULTIPLES,
    behind_a_turn,
    folded_sheets,
    middle,
    nearest_behind_a_turn,
    padded,
)
from guidekit.units import decimal

LEAST_SPINE = 5  # mm, for lettering (common practice, no source)
STAPLED, ONE_SHEET = "saddle-stitch", "zine"


def of_book(file: LoadedIssue, plans: Sequence[PagePlan]) -> Iterator[str]:
    """Every caution that has to do with how these pages become a book."""
    yield from _of_page_count(file)
    yield from _of_spreads(file, plans)
    yield from _of_creep(file, plans)
    yield from _of_page_turns(file, plans)
    yield from _of_spine(file)


def _of_page_count(file: LoadedIssue) -> Iterator[str]:
    """Page counts that fold: a sheet folded once holds four pages, a leaf two."""
    pages, kind = file.pages, file.issue.bound_as
    if not kind and file.preset.facing and pages % 4:
        yield (
            "If the book is stapled: such books are printed on sheets of four pages: "
            f"{pages} page{' takes' if pages == 1 else 's take'} {padded(pages, 4)}, "
            "the rest blank. Ask the printer."
        )
    multiple = MULTIPLES.get(kind, 1)
    if pages % multiple:
        more = padded(pages, multiple)
        fewer = more - multiple
        ways = [f"{how_many(pages, n)} for {n}" for n in (fewer, more) if n]
        yield (
            f"Pages bound as {kind} are a multiple of {multiple}, and these are {pages}. "
            f"{', or '.join(ways).capitalize()}: "
            'kind = "blank", "ad" or "credits" fills them. The printer adds blank ones.'
        )


def _of_spreads(file: LoadedIssue, plans: Sequence[PagePlan]) -> Iterator[str]:
    kind = file.issue.bound_as
    centre = middle(file.pages) if kind == STAPLED else ()
    spreads = [plan for plan in plans if plan.boxes.fold is not None]
    for plan in spreads:
        if plan.numbers == centre:
            yield (
                f"{plan.called.capitalize()} lie in the middle of the innermost sheet: of all "
                "facing pages only they are one piece of paper."
            )
    split = [plan for plan in spreads if plan.numbers != centre and _crosses_fold(plan)]
    if kind == ONE_SHEET or not split:
        return
    named = split[0].called.capitalize()
    if split[1:]:
        named = f"Pages {', '.join('-'.join(map(str, plan.numbers)) for plan in split)}"
    if kind == STAPLED:
        yield (
            f"{named}: the two halves are on different sheets, which may meet 1 to 2 mm apart in "
            f"height and in the fold. {_kept_away(file)}"
        )
    elif kind == "loose":
        yield f"{named}: the two halves are loose sheets, which may lie 1 to 2 mm apart."
    else:
        yield f"{named}: a perfect-bound book swallows what lies in the fold. {_kept_away(file)}"


def _crosses_fold(plan: PagePlan) -> bool:
    """True if something is drawn across the fold, as it is not on two halves each for itself."""
    fold = plan.boxes.fold or 0
    return any(box.left < fold < box.right for panel in plan.panels for box in panel.boxes)


def _kept_away(file: LoadedIssue) -> str:
    """How far from the fold: what the preset says that it may swallow, else the usual."""
    strip = file.preset.fold_strip
    if not file.issue.bound_as or not strip.value:
        return "Keep faces and lettering 6 to 13 mm (1/4 to 1/2 in) away from it."
    return f"The preset counts {strip} as lost in it: keep faces and lettering out of that strip."


def _of_creep(file: LoadedIssue, plans: Sequence[PagePlan]) -> Iterator[str]:
    binding = file.issue.binding
    if not binding or not any(plan.creep for plan in plans):
        return
    first, last = middle(file.pages)
    most = max(plan.creep for plan in plans)
    taken = "It is taken from the safe area, page by page."
    if not binding.creep_in_safe_area:
        taken = "Safe areas are as they were: creep_in_safe_area = true takes it from them."
    estimated = " (the caliper is estimated from grams)" if binding.grams else ""
    sheets = len(folded_sheets(padded(file.pages, 4)))
    yield (
        f"Creep: of {sheets} sheets in each other the innermost, "
        f"pages {first} and {last}, is pushed out by {decimal(most, 2)} mm and cut off by as much"
        f"{estimated}. {taken} Printers often make up for it themselves: ask."
    )


def _of_page_turns(file: LoadedIssue, plans: Sequence[PagePlan]) -> Iterator[str]:
    for plan in plans:
        page = plan.numbers[0] if plan.numbers else 0
        if plan.reveal and file.preset.facing and not behind_a_turn(page):
            near = nearest_behind_a_turn(page, file.pages)
            seen = "page 1 is seen before any page is turned"
            if page > 1:
                seen = f"page {page} is seen together with page {page - 1}"
            named = " and ".join(map(str, near))
            others = f"the nearest behind a page turn {'are' if near[1:] else 'is'} {named}."
            others = others if near else "there is none."
            yield f"Page {page} is to be a reveal, but {seen}; {others}"


def _of_spine(file: LoadedIssue) -> Iterator[str]:
    """What the cover's canvas depends on, and whether letters go on it."""
    cover, thick = file.issue.cover, spine_of(file.issue, file.pages)
    if not cover or not cover.wrap or thick is None or not thick.value:
        return
    mm = thick.mm(file.preset.dpi)
    if not cover.spine:
        estimated = (
            " estimated from grams" if file.issue.binding and file.issue.binding.grams else ""
        )
        yield (
            f"The spine of {file.pages} pages is {decimal(mm, 2)} mm{estimated}, and with it the "
            "width of the cover: with other pages or other paper both change. The printer's own "
            'figure wins; write it as spine = "…" under [cover].'
        )
    if mm < LEAST_SPINE:
        yield (
            f"A spine of {decimal(mm, 2)} mm is too narrow for lettering, which wanders by a "
            f"millimetre or two as covers are folded: {LEAST_SPINE} mm or more are usual."
        )
