"""Whether an issue can be bound as it says."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from guidekit.errors import Problem
from guidekit.issue.folding import ZINE, creep, middle, padded, spine
from guidekit.issue.models.book import Binding
from guidekit.issue.models.issue import Issue
from guidekit.preset import Preset
from guidekit.preset.sizes import ZERO
from guidekit.units import Length, decimal


def binding_problems(issue: Issue, preset: Preset, pages: int) -> Iterator[Problem]:
    """Bindings that cannot be, of so many pages.

    A number of pages that sheets can fill up is only a caution.
    """
    if not issue.binding:
        return
    kind, key = issue.binding.kind, ("binding",)
    if (kind == "scroll") != bool(preset.scroll):
        if preset.scroll:
            came = f"this preset is for scrolls, which are not bound as {kind}"
            yield Problem(key, came, 'binding = "scroll"', 'Write "scroll", or leave it out.')
        else:
            came = "this preset is for printed pages, which are no scroll"
            yield Problem(key, came, todo="Take a preset for scrolls, or another binding.")
    elif kind in ("saddle-stitch", "perfect", "zine") and not preset.facing:
        came = f"in {kind} binding pages face each other, and this preset has none that do"
        yield Problem(key, came, todo="Add facing = true under [format], or take loose.")
    if kind == "zine" and pages != ZINE:
        came = f"a zine has exactly {ZINE} pages, and these are {pages}"
        yield Problem(key, came, todo=f"{how_many(pages, ZINE).capitalize()}.")
    yield from _too_much_creep(issue.binding, preset, pages)


def _too_much_creep(binding: Binding, preset: Preset, pages: int) -> Iterator[Problem]:
    """A creep that leaves nothing of the innermost safe area."""
    if not binding.creep_in_safe_area or not binding.thickness:
        return
    most = creep(middle(pages)[0], pages, binding.thickness, binding.creep_factor)
    safe, dpi = preset.safe_area, preset.dpi
    if safe.inside.mm(dpi) + safe.outside.mm(dpi) + most >= preset.page_size.width.mm(dpi):
        came = f"a creep of {decimal(most, 1)} mm leaves nothing of the safe area"
        todo = "Take thinner paper, fewer pages or a smaller creep_factor."
        yield Problem(("binding", "creep_in_safe_area"), came, todo=todo)


def cover_problems(issue: Issue, preset: Preset, pages: int) -> Iterator[Problem]:
    """Covers that cannot be, on a book of so many pages."""
    cover, kind = issue.cover, issue.bound_as
    if not cover:
        return
    if kind in ("zine", "scroll"):
        came = f"a {kind} has no cover apart from its pages"
        yield Problem(("cover",), came, todo="Leave it out.")
    elif kind == "loose" and cover.wrap:
        came = "loose pages have no spine for a cover to go round"
        yield Problem(("cover",), came, "wrap = false", 'Write "wrap = false", or bind them.')
    elif cover.wrap and spine_of(issue, pages) is None:
        came = "how thick the spine is cannot be known without the paper"
        allowed = 'caliper = "0.1 mm" or grams = 90 in binding, or spine = "6 mm" here'
        yield Problem(("cover",), came, allowed)
    for edge in ("width", "height") if cover.barcode else ():
        trim, own = getattr(preset.page_size, edge), getattr(cover.barcode, edge)
        if not 0 < own.px(preset.dpi) <= trim.px(preset.dpi) / 2:
            came = f"{own} is no {edge} of a barcode on this cover"
            allowed = f"more than 0 and at most half of the page's {edge} of {trim}"
            yield Problem(("cover", "barcode", edge), came, allowed)


def spine_of(issue: Issue, pages: int) -> Length | None:
    """The thickness of the spine: as given, nothing where sheets are folded, else leaves of paper.

    None if there is no paper to reckon with.
    """
    cover, binding = issue.cover, issue.binding
    if cover and cover.spine:
        return cover.spine
    if binding and binding.kind == "saddle-stitch":
        return ZERO
    if not binding or not binding.thickness:
        return None
    over = cover.thickness if cover and cover.thickness else Fraction(0)
    return Length(spine(padded(pages, 2), binding.thickness, over), "mm")


def how_many(pages: int, wanted: int) -> str:
    """What to do for a number of pages: ``add 3 pages``."""
    missing = wanted - pages
    word = "page" if abs(missing) == 1 else "pages"
    return f"{'add' if missing > 0 else 'drop'} {abs(missing)} {word}"
