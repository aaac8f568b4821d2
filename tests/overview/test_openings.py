"""Pages as they face each other: every canvas once, on its side, with the page turns between."""

from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.laid_out_pages import issue
from support.samples import issue_file

from guidekit.overview.make import looked_over
from guidekit.overview.openings import Opening

SPLASH: dict[str, Any] = {"panels": "splash"}
PAPER = {"kind": "perfect", "caliper": "1 mm"}


def opened(folder: Any, *pages: dict[str, Any], **keys: Any) -> tuple[Opening, ...]:
    """The openings of an issue of these pages."""
    return looked_over(issue_file(folder, issue(*pages, **keys))).openings


def labels(openings: tuple[Opening, ...]) -> list[list[str]]:
    """What each place of each opening is called, a dash for none."""
    return [[view.label if view else "-" for view in opening.places] for opening in openings]


@given(st.lists(st.booleans(), min_size=1, max_size=9), st.sampled_from(["ltr", "rtl"]))
def test_every_canvas_once(spreads: list[bool], direction: str) -> None:
    """Single pages and spreads in any order: each is shown once, in reading order."""
    pairs = [SPLASH | ({"spread": True} if spread else {"count": 2}) for spread in spreads]
    with TemporaryDirectory() as folder:
        openings = opened(Path(folder), SPLASH, *pairs, direction=direction)
    numbers = [n for opening in openings for view in opening.views for n in view.plan.numbers]
    assert numbers == [*range(1, 2 * len(spreads) + 2)]
    for opening in openings[1:]:
        assert opening.views[0].plan.numbers[0] % 2 == 0


def test_covers_stand_where_they_face(tmp_path: Any) -> None:
    """The inside of the front cover faces page 1, that of the back cover the last page."""
    cover = {"wrap": False, "inside": True}
    found = labels(opened(tmp_path, SPLASH | {"count": 4}, binding=PAPER, cover=cover))
    assert found == [
        ["-", "front cover"],
        ["inside front cover", "1"],
        ["2", "3"],
        ["4", "inside back cover"],
        ["back cover", "-"],
    ]
    wrapped = labels(opened(tmp_path, SPLASH | {"count": 2}, binding=PAPER, cover={}))
    assert wrapped == [["cover"], ["-", "1"], ["2", "-"]]


def test_without_facing_pages(tmp_path: Any) -> None:
    """Pages that do not face each other lie open alone, and none is behind a turn."""
    found = opened(tmp_path, SPLASH | {"count": 3}, format={"facing": False})
    assert labels(found) == [["1"], ["2"], ["3"]]
    assert not any(view.turned or view.turns for opening in found for view in opening.views)


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_a_turn_is_between_openings(tmp_path: Any, direction: str) -> None:
    """What ends an opening turns, what begins the next is turned to; the outer corner says so."""
    pages = [SPLASH, SPLASH | {"spread": True}, SPLASH, SPLASH]
    found = opened(tmp_path, *pages, direction=direction)
    for before, after in pairwise(found):
        (turned, *_), turns = after.views, before.views[-1]
        assert (turns.turns, turned.turned) == (True, True)
        trim = turns.plan.boxes.trim
        assert turns.corner[0] == (trim.right if direction == "ltr" else trim.left, 770)
    assert not found[-1].views[-1].turns


def test_what_is_shown_ends_at_the_fold(tmp_path: Any) -> None:
    """Facing pages are shown with their bleed, and meet at the trim: 20 px and 600 px."""
    _, (left, right) = (opening.places for opening in opened(tmp_path, SPLASH | {"count": 3}))
    assert left
    assert right
    assert left.seen.as_list() == [0, 0, 620, 840]
    assert right.seen.as_list() == [20, 0, 640, 840]


def test_cautions_belong_to_their_pages(tmp_path: Any) -> None:
    """A caution about page 1 is not told at page 11."""
    pages = [SPLASH | {"reveal": True}, SPLASH | {"count": 15}]
    found = [v for o in opened(tmp_path, *pages, binding="saddle-stitch") for v in o.views]
    assert [v.label for v in found if v.cautions] == ["1"]


def test_every_spread_with_a_caution_is_marked(tmp_path: Any) -> None:
    """Not the first of them only; two halves that nothing crosses lose nothing in the fold."""
    spread = SPLASH | {"spread": True}
    halves = {"spread": True, "halves": ["splash", {"tiers": [1, 2]}]}
    pages = [SPLASH, spread | {"count": 2}, halves, spread, SPLASH | {"count": 3}]
    found = [v for o in opened(tmp_path, *pages, binding="perfect") for v in o.views]
    assert [v.label for v in found if v.cautions] == ["2–3", "4–5", "8–9"]
