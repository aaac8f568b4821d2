"""Vertical scrolls by the shipped preset, and their heights told a second time."""

from fractions import Fraction
from typing import Any

from guidekit.geometry.page import PagePlan
from support.laid_out_pages import issue, plans
from support.rounding import nearest

PART, SCREEN = 25_600, 2560  # the tallest canvas and a delivered slice, as drawn
GAPS = {"close": 200, "normal": 700, "scene": 1600}


def scroll(*items: dict[str, Any], **keys: Any) -> tuple[PagePlan, ...]:
    """The canvases of a scroll."""
    return plans(issue({"scroll": items}, preset="vertical-scroll", **keys))


def tall(number: int) -> dict[str, Any]:
    """A panel so many pixels tall."""
    return {"height": f"{number} px"}


def places(items: list[dict[str, Any]]) -> list[tuple[int, int]]:
    """Top and bottom of every item on the whole scroll."""
    at, found = 0, []
    for i, item in enumerate(items):
        if i or "gap" in item:
            gap = item.get("gap", "normal")
            at += even(GAPS[gap] if gap in GAPS else Fraction(gap.split()[0]))
        height = even(_height(item, 1600 if item.get("full") else 1440))
        found.append((at, at + height))
        at += height
    return found


def _height(item: dict[str, Any], width: int) -> Fraction:
    if "ratio" in item:
        across, down = item["ratio"].split(":")
        return Fraction(width * int(down), int(across))
    number, unit = item["height"].split()
    return Fraction(number) * (1 if unit == "px" else SCREEN)


def even(length: int | Fraction) -> int:
    """The nearest even number of pixels, half up: whole pixels when delivered at half size."""
    return 2 * nearest(Fraction(length, 2))
