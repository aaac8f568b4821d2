"""The ruled lines round panels, by the pixels of their layer: weights, none, and shared ones."""

from itertools import groupby, pairwise
from typing import Any

import numpy as np
import pytest
from support.laid_out_pages import outlines, page, pixels
from support.reference import reference


def runs(line: np.ndarray) -> list[tuple[int, int]]:
    """The (begin, end) of every run of full ink along a line of pixels."""
    at, found = 0, []
    for value, group in groupby(line.tolist()):
        length = len([*group])
        if value == 255:
            found.append((at, at + length))
        at += length
    return found


def ink(layout: dict[str, Any], **changes: Any) -> np.ndarray:
    """The panel borders of a page."""
    return pixels(page(layout, format=changes), "Panel borders")


def test_the_weight_of_the_preset_lies_inside_the_panel() -> None:
    """All borders have the preset's weight and lie inside their panels."""
    plane = ink({"tiers": [2]})
    assert runs(plane[400]) == [(60, 64), (311, 315), (325, 329), (576, 580)]
    assert runs(plane[:, 100]) == [(60, 64), (776, 780)]


@pytest.mark.parametrize(
    ("border", "weight"), [("9 px", 9), ("0.06 in", 6), ("0.2 px", 1), (True, 4)]
)
def test_a_weight_of_its_own(border: Any, weight: int) -> None:
    """A panel's border has the weight given for it, at least a pixel, and no other panel's has."""
    plane = ink({"tiers": [2], "panel": {"2": {"border": border}}})
    assert runs(plane[400]) == [(60, 64), (311, 315), (325, 325 + weight), (580 - weight, 580)]
    assert runs(plane[:, 400]) == [(60, 60 + weight), (780 - weight, 780)]


@pytest.mark.parametrize("border", [False, "0 mm"])
def test_borderless(border: Any) -> None:
    """A panel without a border leaves no ink, and those beside it keep theirs."""
    plane = ink({"tiers": [2], "panel": {"1": {"border": border}}})
    assert runs(plane[400]) == [(325, 329), (576, 580)]
    assert not plane[:, :320].any()


def test_no_borders_at_all() -> None:
    """A preset whose borders weigh nothing rules none, but a panel may have one of its own."""
    layout = {"tiers": [2], "panel": {"2": {"border": "3 px"}}}
    assert runs(ink(layout, border="0 px")[400]) == [(325, 328), (577, 580)]


def test_slanted_borders_have_their_weight() -> None:
    """Along a slanted side a border is as wide, measured across it, as along a straight one."""
    shapely = reference("shapely")  # distances by an independent geometry library
    plan = page({"columns": [1, 1], "slant": "11 deg"})
    for outer, panel in zip(outlines(plan), plan.panels, strict=True):
        assert panel.border
        inner = shapely.LinearRing(panel.border.inner)
        middles = [side.centroid for side in sides(shapely, inner)]
        assert len(middles) == 4
        assert [outer.exterior.distance(x) for x in middles] == pytest.approx([4] * 4, abs=1e-9)


def sides(shapely: Any, ring: Any) -> list[Any]:
    """The straight sides of a ring."""
    points = [*ring.coords]
    return [shapely.LineString(pair) for pair in pairwise(points)]


@pytest.mark.parametrize("weight", [1, 4, 5])
@pytest.mark.parametrize("key", ["tiers", "columns"])
def test_butted_panels_share_one_line(key: str, weight: int) -> None:
    """Without a gutter one line of normal weight lies on the common edge, half of it on each side.

    Of an odd weight the spare pixel lies on one side.
    """
    plane = ink({key: [1, 1, 1]}, gutter="0 px", border=f"{weight} px")
    line, low, high = (plane[400], 60, 580) if key == "columns" else (plane[:, 300], 60, 780)
    first, *shared, last = runs(line)
    assert (first, last) == ((low, low + weight), (high - weight, high))
    edges = [low + round((high - low) * k / 3) for k in (1, 2)]
    assert [end - begin for begin, end in shared] == [weight, weight]
    assert all(abs(begin + end - 2 * x) <= 1 for (begin, end), x in zip(shared, edges, strict=True))


def test_butted_panels_of_a_map_share_their_lines() -> None:
    """Every line of a letter map without gutters has normal weight, where three panels meet too."""
    plane = ink({"map": "A A B\nA A C\nD E E"}, gutter="0 px")
    for line in (*plane[62:778], *plane.T[62:578]):
        lengths = {end - begin for begin, end in runs(line)}
        assert lengths
        assert all(length == 4 or length > 50 for length in lengths)


def test_a_butted_line_goes_on_past_a_gutter() -> None:
    """A line that two panels above share with one below stays as heavy in the gap between them."""
    plane = ink({"tiers": [2, 1], "gutters": ["0 px"]})
    (shared,) = [run for run in runs(plane[:, 100]) if 300 < run[0] < 500]
    thin = [x for x in range(60, 580) if not plane[slice(*shared), x].all()]
    assert thin == []


def test_a_borderless_neighbour_takes_nothing_away() -> None:
    """A panel butted to one without a border keeps its own at normal weight."""
    plane = ink({"columns": [1, 1], "panel": {"1": {"border": False}}}, gutter="0 px")
    assert [end - begin for begin, end in runs(plane[400])] == [4, 4]


def test_butted_slanted_panels_share_one_line() -> None:
    """Without a gutter the line between slanted panels has normal weight, measured across it."""
    shapely = reference("shapely")
    plan = page({"columns": [1, 1], "slant": "11 deg"}, format={"gutter": "0 px"})
    left, right = (shapely.Polygon(panel.border.inner) for panel in plan.panels if panel.border)
    assert left.distance(right) == pytest.approx(4, abs=1e-9)
