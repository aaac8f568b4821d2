"""Panels without a gutter share one border, and only where they really lie against each other."""

from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import event, given, reject
from hypothesis import strategies as st
from support.laid_out_pages import outlines, page, pixels, polygon
from support.random_pages import mirrored
from support.reference import reference

from guidekit.errors import InputError

SPLASH = {"panels": "splash"}


def sharing(plan: Any) -> list[int]:
    """The numbers of the panels whose border goes beyond their outline, over a neighbour's."""
    return [
        panel.number
        for panel in plan.panels
        if panel.border and panel.border.outer != panel.outline
    ]


def touching(plan: Any) -> list[int]:
    """The panels that have a side in common with another one, by shapely (GEOS)."""
    shapely = reference("shapely")
    found = set()
    for (i, a), (j, b) in combinations(enumerate(outlines(plan), 1), 2):
        near = shapely.intersection(a.boundary, b.buffer(1e-4).boundary.buffer(1e-3))
        if a.distance(b) < 1e-6 and near.length > 0.5:
            found |= {i, j}
    return sorted(found)


STACKS: dict[str, dict[str, Any]] = {
    # the left stack's upper panel ends at 412, where the right stack's lower panel begins
    "upright": {"columns": [{"tiers": [1, 1]}, {"tiers": [1, 1], "heights": ["336 px", 1]}]},
    "slanted": {
        "columns": [{"tiers": [1, 1]}, {"tiers": [1, 1], "heights": ["336 px", 1]}],
        "slant": "5 deg",
    },
}


@pytest.mark.parametrize("kind", STACKS)
def test_stacks_of_unequal_panels(kind: str) -> None:
    """Panels of two stacks with gutters between and in them share no border, level as they are."""
    plan = page(STACKS[kind])
    assert [panel.box.bottom for panel in plan.panels][:1] == [412]
    assert [panel.box.top for panel in plan.panels][-1:] == [412]
    assert sharing(plan) == touching(plan) == []


gutters = st.sampled_from(["0 px", "0 px", "16 px", "9 px"])
slants = st.sampled_from(["0 deg", "0 deg", "4 deg", "-3 deg"])


@st.composite
def stacks(draw: st.DrawFn) -> dict[str, Any]:
    """Columns of stacks, some slanted, some without gutters."""
    parts: list[Any] = []
    for _ in range(draw(st.integers(2, 3))):
        number = draw(st.integers(1, 3))
        heights = [draw(st.sampled_from([1, 1, 2, "200 px"])) for _ in range(number)]
        stack: dict[str, Any] = {"tiers": [1] * number, "heights": [1, *heights[1:]]}
        if number > 1:
            stack["gutters"] = [draw(gutters) for _ in range(number - 1)]
            stack["slants"] = [draw(slants) for _ in range(number - 1)]
        parts.append(stack)
    count = len(parts) - 1
    return {
        "columns": parts,
        "gutters": [draw(gutters) for _ in range(count)],
        "slants": [draw(slants) for _ in range(count)],
    }


@given(stacks())
def test_borders_are_shared_where_panels_touch(layout: dict[str, Any]) -> None:
    """A panel shares its border if, and only if, a part of one of its sides is another's too."""
    try:
        plan = page(layout)
    except InputError:
        reject()
    event(f"{len(touching(plan))} touch")
    assert sharing(plan) == touching(plan)


@pytest.mark.parametrize("weight", [3, 4, 5])
@pytest.mark.parametrize(
    "layout",
    [{"tiers": [2, 3]}, {"map": "A A B\nC D B\nC E E"}, {"columns": [1, {"tiers": [2, 1]}]}],
)
def test_shared_borders_are_mirrored(layout: dict[str, Any], weight: int) -> None:
    """Borders on a left page are the mirror image of those on a right page, of odd weight too."""
    changes = {"border": f"{weight} px", "gutter": "0 px"}
    right = page(layout, format=changes)
    left = page(mirrored(layout), direction="rtl", format=changes)
    assert (right.side, left.side) == ("right", "left")
    ink = pixels(left, "Panel borders")[:, ::-1]
    assert np.array_equal(ink, pixels(right, "Panel borders"))


@pytest.mark.parametrize("weight", [3, 4])
def test_shared_borders_have_one_weight(weight: int) -> None:
    """Where panels lie against each other one line is ruled, as heavy as round the page."""
    changes = {"border": f"{weight} px", "gutter": "0 px"}
    ink = pixels(page({"tiers": [2]}, format=changes), "Panel borders")[400]
    assert [int(x) for x in np.flatnonzero(ink)] == [
        *range(60, 60 + weight),
        *range(320 - weight // 2, 320 - weight // 2 + weight),
        *range(580 - weight, 580),
    ]


def test_an_inset_in_a_corner_between_panels() -> None:
    """An inset with no gutter shares the line between two panels, as its panel does."""
    inset = {"over": 1, "width": "100 px", "height": "80 px", "corner": "top-right"}
    layout = {"tiers": [2], "insets": [inset | {"gutter": "0 px"}]}
    ink = pixels(page(layout, format={"gutter": "0 px"}), "Panel borders")[100]
    assert [int(x) for x in np.flatnonzero(ink[:340])] == [
        *range(60, 64), *range(220, 224), *range(318, 322)
    ]  # fmt: skip


def test_outlines_do_not_move() -> None:
    """A shared border changes what is ruled, not the panels."""
    plan = page({"columns": [1, 1], "slant": "6 deg"}, format={"gutter": "0 px"})
    a, b = outlines(plan)
    assert a.area + b.area == pytest.approx(520 * 720, abs=1e-6)
    for panel, shape in zip(plan.panels, (a, b), strict=True):
        assert panel.border
        assert polygon(panel.border.outer).area - shape.area == pytest.approx(
            2 * 720 / np.cos(np.radians(6)), rel=0.01
        )
