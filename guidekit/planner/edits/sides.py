"""A page that differs by its side: what it says on one side, and that side changed alone."""

from __future__ import annotations

from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.issue.models.by_side import (
    BY_SIDE,
    FACING,
    IN_COMMON,
    Facing,
    names_sides,
    on_side,
)
from guidekit.issue.models.part import CONTENTS, SHARES
from guidekit.planner.edits.spots import Values
from guidekit.preset.sizes import spell_out
from guidekit.toml.tables import merged


def values_on(page: Any, side: str) -> Any:
    """What a page says on one side; the page itself if it says the same on both.

    So too where a gutter or an edge is said in parts for one side and whole for both.
    """
    if side not in FACING or not names_sides(page):
        return page
    facing: Facing = "left" if side == "left" else "right"
    own = page.get(f"on_{side}", {})
    replaced = (*CONTENTS, *SHARES) if any(key in own for key in CONTENTS) else ()
    common = {key: said for key, said in page.items() if key not in (*BY_SIDE, *replaced)}
    values = merged(common, own)
    return values if spell_out(values) == on_side(page, facing, CONTENTS, SHARES) else page


def with_values_on(page: Any, side: str, wanted: Values) -> Values:
    """The page that says what is wanted on one side, and on the other what it said.

    What says which pages there are is changed for both. Raises `InputError` for what is said for
    both sides and cannot be taken out for one.
    """
    if not names_sides(page):
        return wanted
    before = {key: said for key, said in page.items() if key not in BY_SIDE}
    common = {key: said for key, said in before.items() if key not in IN_COMMON}
    common |= {key: wanted[key] for key in IN_COMMON if key in wanted}
    own = {key: said for key, said in wanted.items() if common.get(key) != said}
    if any(key in own for key in (*CONTENTS, *SHARES)):
        own |= {key: wanted[key] for key in (*CONTENTS, *SHARES) if key in wanted}
    others = {key: page[key] for key in BY_SIDE if key in page and key != f"on_{side}"}
    changed = common | others | ({f"on_{side}": own} if own or not others else {})
    ordered = {key: changed[key] for key in page if key in changed} | changed
    if values_on(ordered, side) != wanted:
        came = "this is said for left and right pages alike, and cannot be taken out for one"
        raise InputError(Problem((), came, todo="Change it in the file."))
    return ordered
