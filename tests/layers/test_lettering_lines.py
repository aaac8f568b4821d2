"""Lettering lines by the handbook: two thirds of the capitals' height between two lines.

Source: US Navy, Engineering Aid training manual, NAVEDTRA 14069, chapter 3 (lettering).
"""

from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from support.catalogue import PRESETS
from support.laid_out_pages import layers, page, pixels

SPLASH = {"panels": "splash"}
HANDBOOK = Fraction(2, 3)
CAPITALS = {"12 px": Fraction(12), "7/96 in": Fraction(700, 96), "2.1 mm": Fraction(2100, 254)}


@pytest.mark.parametrize("name", PRESETS)
def test_every_preset_follows_the_handbook(name: str) -> None:
    """The space between two lines is two thirds of the capitals, in every shipped preset."""
    book = page({"tiers": [1]}, preset=name).book
    assert book.furniture.capitals > 0
    assert book.furniture.space == HANDBOOK * book.furniture.capitals


def ruled(layout: dict[str, Any], **lettering: Any) -> np.ndarray:
    """The lettering lines of a page; a pixel tall each."""
    plan = page(layout, format={"lettering": lettering})
    assert not layers(plan)["Lettering lines"].visible, "hidden until they are wanted"
    return pixels(plan, "Lettering lines") > 0


def pairs(top: Fraction | int, bottom: int, capitals: Fraction, most: int = 999) -> list[int]:
    """Cap line and base line of every line that fits, each rounded by itself, half up."""
    found: list[int] = []
    pitch = capitals * (1 + HANDBOOK)
    for k in range(most):
        lines = [(2 * (top + k * pitch + part) + 1) // 2 for part in (0, capitals)]
        if lines[1] > bottom:
            break
        found += lines
    return found


def rows(plane: np.ndarray, left: int, right: int) -> list[int]:
    """The rows that are drawn over the whole width between two columns."""
    return [y for y in range(len(plane)) if plane[y, left:right].all()]


@pytest.mark.parametrize("capitals", CAPITALS)
def test_lines_fill_the_safe_area(capitals: str) -> None:
    """From the top of the safe area on come cap line, base line and space, over and over."""
    exact = CAPITALS[capitals]
    space = f"{exact * HANDBOOK} px"
    plane = ruled(SPLASH, capitals=capitals, space=space)
    assert rows(plane, 60, 580) == [y for y in pairs(60, 780, exact) if y < 780]
    assert not plane[:, :60].any()
    assert not plane[:, 580:].any()


@pytest.mark.parametrize("number", [1, 3, 4])
@pytest.mark.parametrize("capitals", CAPITALS)
def test_lines_at_the_top_of_every_panel(capitals: str, number: int) -> None:
    """So many lines stand at the top of every panel, a space below its edge and inside it."""
    exact = CAPITALS[capitals]
    space = exact * HANDBOOK
    layout = {"tiers": [2, 1]}
    plane = ruled(layout, capitals=capitals, space=f"{space} px", rule_over="panels", lines=number)
    for left, top, right, bottom in ((60, 60, 315, 412), (325, 60, 580, 412), (60, 428, 580, 780)):
        first = (2 * (top + space) + 1) // 2
        inside = np.zeros_like(plane)
        inside[top:bottom] = plane[top:bottom]
        assert rows(inside, left, right) == pairs(first, bottom, exact, number)
    assert not plane[412:428].any()
    assert not plane[60:412, 315:325].any()


def test_low_panels_have_the_lines_that_fit() -> None:
    """A panel too low for all its lines has those that fit, and one without room has none."""
    layout = {"tiers": [1, 1, 1], "heights": ["50 px", "15 px", 1]}
    lettering = {"capitals": "12 px", "space": "8 px", "rule_over": "panels", "lines": 4}
    plane = ruled(layout, **lettering)
    found = rows(plane, 60, 580)
    assert [y for y in found if y < 110] == [68, 80, 88, 100]
    assert not plane[110:141].any()
    assert len([y for y in found if y >= 157]) == 8


def test_lines_stay_inside_slanted_panels() -> None:
    """Lines at the top of slanted panels end at the slanted edge."""
    layout = {"columns": [1, 1], "slant": "20 deg"}
    plane = ruled(layout, capitals="12 px", space="8 px", rule_over="panels", lines=2)
    middle = 320 + (720 / 2 - 8) * np.tan(np.radians(20))  # of the gutter, where the first line is
    drawn = np.flatnonzero(plane[68])
    half = 5 / np.cos(np.radians(20))
    assert [drawn[0], drawn[-1]] == [60, 579]
    gap = [x for x in range(60, 580) if not plane[68, x]]
    assert gap[0] == pytest.approx(middle - half, abs=1.5)
    assert gap[-1] == pytest.approx(middle + half, abs=1.5)


def test_lines_stay_in_the_safe_area_of_bleeding_panels() -> None:
    """In a panel that bleeds, lines begin at the safe area and not at the edge of the paper."""
    layout = SPLASH | {"panel": {"1": {"bleed": "all"}}}
    plane = ruled(layout, capitals="12 px", space="8 px", rule_over="panels", lines=2)
    assert rows(plane, 60, 580) == [68, 80, 88, 100]
    assert not plane[:, :60].any()


def test_no_lines_without_capitals() -> None:
    """Capitals of no height rule nothing, and there is no layer."""
    plan = page(SPLASH, format={"lettering": {"capitals": "0 mm", "space": "0 mm"}})
    assert "Lettering lines" not in layers(plan)
