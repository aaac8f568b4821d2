"""Walls in perspective and their division, beside the rules of projective geometry."""

from itertools import pairwise
from typing import Any

import pytest
from support.laid_out_pages import refusal
from support.perspectives import SPLASH, distance, view
from support.reference import reference

from guidekit.geometry.panels.perspective import PerspectiveLines

WALL = {"near": "80 %", "far": "40 %", "top": "10 %", "bottom": "90 %"}


def uprights(found: PerspectiveLines) -> list[float]:
    """Where the uprights of a wall are, from the near one on."""
    return [a[0] for a, b in found.wall if a[0] == pytest.approx(b[0], abs=1e-9)]


@pytest.mark.parametrize("point", ["10 %", "-150 %", "39 %"])
@pytest.mark.parametrize("parts", [2, 3, 7, 32])
def test_walls_are_divided_into_equal_depths(parts: int, point: str) -> None:
    """Equal depths take equal steps of 1 / (x − v), v being where they vanish.

    Projective geometry: a central projection of a line is x = v + c / (t + d), t being the depth.
    """
    found = view(points=[point], wall=WALL | {"parts": parts})
    xs, v = uprights(found), found.points[0][0]
    assert (xs[0], xs[-1]) == (60 + 520 * 0.8, 60 + 520 * 0.4)
    steps_ = [1 / (b - v) - 1 / (a - v) for a, b in pairwise(xs)]
    assert steps_ == pytest.approx([steps_[0]] * parts, rel=1e-9)


@pytest.mark.parametrize("point", ["10 %", "-150 %", "39 %"])
def test_halves_are_harmonic(point: str) -> None:
    """Near and far edge are harmonic to the middle and the vanishing point: cross-ratio −1."""
    found = view(points=[point], wall=WALL | {"parts": 2})
    (near, middle, far), v = uprights(found), found.points[0][0]
    cross = ((middle - near) * (v - far)) / ((middle - far) * (v - near))
    assert cross == pytest.approx(-1, abs=1e-9)


def test_the_diagonals_cross_in_the_middle_of_a_wall() -> None:
    """The diagonals of a wall meet on its middle upright, as a draughtsman finds it."""
    found = view(wall=WALL)
    rest = [line for line in found.wall if line[0][0] != pytest.approx(line[1][0], abs=1e-9)]
    assert len(rest) == 4, "two edges and two diagonals"
    shapely = reference("shapely")
    first, second = (shapely.LineString(line) for line in rest[2:])
    assert first.intersection(second).x == pytest.approx(uprights(found)[1], abs=1e-6)


def test_the_edges_of_a_wall_run_to_its_point() -> None:
    """Upper and lower edge of a wall lie on lines through the vanishing point it is given."""
    for number, (near, far) in ((1, ("60 %", "30 %")), (2, ("60 %", "80 %"))):
        wall = WALL | {"near": near, "far": far, "point": number}
        found = view(points=["10 %", "95 %"], wall=wall)
        rest = [line for line in found.wall if line[0][0] != pytest.approx(line[1][0], abs=1e-9)]
        for edge in rest[:2]:
            assert distance(found.points[number - 1], edge) < 1e-9


WRONG = {
    "wall beyond its point": WALL | {"far": "5 %"},
    "wall that runs away": WALL | {"far": "90 %"},
    "wall upside down": WALL | {"top": "90 %", "bottom": "10 %"},
}


@pytest.mark.parametrize("wall", WRONG.values(), ids=WRONG)
@pytest.mark.parametrize("of", ["page", "panel"])
def test_wrong_walls_are_refused(of: str, wall: dict[str, Any]) -> None:
    """A wall that no drawing can have is refused, on a page and in a panel."""
    table = {"perspective": {"horizon": "50 %", "points": ["10 %"], "wall": wall}}
    text = refusal(SPLASH | (table if of == "page" else {"panel": {"1": table}}))
    place = "" if of == "page" else "panel.1."
    assert text == (
        f"page 1, pages[1].{place}perspective.wall: this wall does not run from its near edge "
        "toward the vanishing point. "
        "Move its edges: top above bottom, and far between near and the vanishing point."
    )


def test_a_wall_of_a_point_that_is_not_there() -> None:
    """A wall cannot run to a second point where there is one."""
    table = {"horizon": "50 %", "points": ["10 %"], "wall": WALL | {"point": 2}}
    assert refusal(SPLASH, SPLASH | {"perspective": table}) == (
        "pages[2].perspective.wall.point: there is only one vanishing point on the horizon. "
        "Write 1."
    )
