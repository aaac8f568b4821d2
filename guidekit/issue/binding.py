"""Whether an issue can be bound as it says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidekit.errors import Problem
from guidekit.issue.folding import ZINE
from guidekit.issue.model import Issue
from guidekit.issue.order import PageEntry
from guidekit.preset import Preset


def binding_problems(
    issue: Issue, preset: Preset, entries: Sequence[PageEntry]
) -> Iterator[Problem]:
    """Bindings that cannot be. A number of pages that sheets can fill up is only a caution."""
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
    pages = entries[-1].numbers[-1] if entries else 0
    if kind == "zine" and pages != ZINE:
        came = f"a zine has exactly {ZINE} pages, and these are {pages}"
        yield Problem(key, came, todo=how_many(pages, ZINE))


def how_many(pages: int, wanted: int) -> str:
    """What to do for a number of pages: ``Add 3 pages.``"""
    missing = wanted - pages
    word = "page" if abs(missing) == 1 else "pages"
    return f"{'Add' if missing > 0 else 'Drop'} {abs(missing)} {word}."
