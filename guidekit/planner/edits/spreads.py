"""Two facing pages as one spread, and a spread as two pages."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from guidekit.errors import InputError, Problem, shown
from guidekit.planner.edits.contents import WITH_CONTENTS
from guidekit.planner.edits.spots import Values
from guidekit.planner.planned_page import PlannedPage

#: What a half of a spread may say for itself.
OF_HALVES = (*WITH_CONTENTS, "gutter")
NAMING = ("panel", "insets")


def merged(pages: Sequence[PlannedPage], direction: str) -> list[Values]:
    """One spread of two pages in reading order; raises `InputError` for what cannot be one.

    Its panels have the numbers of both pages together, and what else they say holds for both.
    """
    for sheet in pages:
        if sheet.entry.page.count > 1:
            came, todo = "one of these stands for several pages alike", "Make it one of its own."
            raise InputError(Problem((), came, todo=todo))
        if not sheet.can_be_shaped or sheet.entry.page.spread:
            came = "a spread is made of two pages with panels, no scrolls, spreads or bare pages"
            raise InputError(Problem((), came))
    halves = [{k: v for k, v in sheet.values.items() if k in OF_HALVES} for sheet in pages]
    whole: Values = {"spread": True, "halves": halves if direction == "ltr" else halves[::-1]}
    for sheet in pages:
        for key, said in sheet.values.items():
            if key == "note" and key in whole:
                whole[key] = f"{whole[key]}, {said}"
            elif key not in (*OF_HALVES, *NAMING, "count") and whole.setdefault(key, said) != said:
                came = f"the two pages differ in {key}: {shown(whole[key])} and {shown(said)}"
                raise InputError(Problem((), came, todo="Make it the same on both."))
    first = len(pages[0].canvas.panels)
    named = [_numbered(sheet.values, by) for sheet, by in zip(pages, (0, first), strict=True)]
    if panels := {k: v for values in named for k, v in values.get("panel", {}).items()}:
        whole["panel"] = panels
    if insets := [inset for values in named for inset in values.get("insets", [])]:
        whole["insets"] = insets
    return [whole]


def halved(spread: PlannedPage) -> list[Values]:
    """Two pages of a spread; of one without halves both have its arrangement.

    Raises `InputError` where panels are named, for they lie on no page alone.
    """
    values = spread.values
    if not values.get("spread"):
        raise InputError(Problem((), "this is no spread"))
    if any(values.get(key) for key in NAMING):
        came, todo = "single panels of this spread have something of their own", "Take it away."
        raise InputError(Problem((), came, todo=todo))
    own = {key: said for key, said in values.items() if key not in ("spread", "halves")}
    if "halves" not in values:
        return [own, own]
    halves = values["halves"] if spread.rules.direction == "ltr" else values["halves"][::-1]
    return [own | (half if isinstance(half, dict) else {"panels": half}) for half in halves]


def _numbered(values: Values, by: int) -> Values:
    """What a page says of its panels, their numbers so much higher; letters stay."""

    def name(old: Any) -> Any:
        if isinstance(old, list):
            return [name(one) for one in old]
        return old + by if isinstance(old, int) else str(int(old) + by) if old.isdigit() else old

    found: Values = {"panel": {name(key): said for key, said in values.get("panel", {}).items()}}
    names = ("over", "read_after", "read_before")
    found["insets"] = [
        {key: name(said) if key in names else said for key, said in inset.items()}
        for inset in values.get("insets", [])
    ]
    return found
