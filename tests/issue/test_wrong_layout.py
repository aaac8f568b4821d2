"""Layouts that cannot be: refused with a whole sentence, or laid out; never another exception."""

from typing import Any

import pytest
from support.laid_out_pages import page, refusal

from guidekit.errors import InputError

SPLASH = {"panels": "splash"}
FIRST = "page 2, pages[2]"


def said(layout: dict[str, Any], **keys: Any) -> str:
    """What is said of page 2 of a book."""
    return refusal(SPLASH, layout, **keys)


FIT = "Take fewer or smaller parts, or a narrower gutter."
LENGTHS = {
    "too wide together": (
        {"tiers": [{"panels": 2, "widths": ["3 in", "3 in"]}]},
        ".tiers[1]: 2 parts with 1 gutter of 10 px need at least 610 px, and there are 520 px. "
        f"{FIT}",
    ),
    "nothing left for a weight": (
        {"columns": [1, 1], "widths": ["510 px", 1]},
        ".columns: 2 parts with 1 gutter of 10 px need at least 521 px, and there are 520 px. "
        f"{FIT}",
    ),
    "lengths that do not fill": (
        {"tiers": [1, 1], "heights": ["100 px", "50 %"]},
        ".tiers: the parts and their gutters take 476 px of 720 px. "
        "Give one of them a weight, such as 1, so that it takes the rest.",
    ),
    "percentages and gutters": (
        {"tiers": [1, 1], "heights": ["50 %", "50 %"]},
        ".tiers: the percentages add up to 100 %: 2 parts with 1 gutter of 16 px need at least "
        "736 px, and there are 720 px. Take smaller percentages, or weights such as 1 and 2, which "
        "leave gutters their room.",
    ),
    "gutters wider than the page": (
        {"tiers": [3], "gutter": "20 in"},
        ".tiers[1]: 3 parts with 2 gutters of 2000 px need at least 4003 px, and there are 520 px. "
        f"{FIT}",
    ),
    "a gutter too few": (
        {"tiers": [1, 1, 1], "gutters": ["1 mm"]},
        ".gutters: 1 value where 2 should be. Write 2 values, one for each.",
    ),
    "a slant too many": (
        {"columns": [1, 1], "slants": ["1 deg", "2 deg"]},
        ".slants: 2 values where 1 should be. Write 1 value.",
    ),
    "a slant where no gap is": (
        {"tiers": [2], "slants": ["1 deg"]},
        ".slants: 1 value where none should be. Leave it out.",
    ),
    "a width too few": (
        {"map": "A B C", "widths": [1, 2]},
        ".widths: 2 values where 3 should be. Write 3 values, one for each.",
    ),
    "a panel of no width": (
        {"tiers": [{"panels": 2, "widths": [1, 100_000]}]},
        ".tiers[1]: part 1, with a share of 1, would be 0 px of 520 px. "
        "Give it a larger share: at least 1 px for each panel.",
    ),
}


@pytest.mark.parametrize(("layout", "text"), LENGTHS.values(), ids=LENGTHS)
def test_lengths_that_do_not_go_together(layout: dict[str, Any], text: str) -> None:
    """What does not fit or does not fill is told with its place, the pixels and what to do."""
    assert said(layout) == FIRST + text


def test_a_wrong_page_is_one_problem() -> None:
    """An issue whose only page is wrong is not told as well that it has no pages."""
    assert refusal({"tiers": []}).count("\n") == 0


@pytest.mark.parametrize(
    ("layout", "where"),
    [
        ({"tiers": [0]}, "pages[2].tiers[1]"),
        ({"tiers": [{"panels": 0}]}, "pages[2].tiers[1].panels"),
        ({"tiers": [{"tiers": []}]}, "pages[2].tiers[1].tiers"),
        ({"columns": []}, "pages[2].columns"),
        ({"map": " \n "}, "pages[2].map"),
        ({"tiers": [-3]}, "pages[2].tiers[1]"),
        ({"tiers": [1], "heights": [0]}, "pages[2].heights[1]"),
        ({"tiers": [1], "heights": ["0 mm"]}, "pages[2].heights[1]"),
        ({"tiers": [1], "heights": ["0 %"]}, "pages[2].heights[1]"),
        ({"tiers": [1, 1], "heights": ["101 %", 1]}, "pages[2].heights[1]"),
        ({"tiers": [1, 1], "slant": "81 deg"}, "pages[2].slant"),
        ({"tiers": [1, 1], "slant": "steep"}, "pages[2].slant"),
        ({"tiers": [1, 1], "gutter": "-1 mm"}, "pages[2].gutter"),
    ],
)
def test_no_panels_and_no_sizes(layout: dict[str, Any], where: str) -> None:
    """No panels, or sizes of nothing, are refused at the entry that says so."""
    text = said(layout)
    assert text.startswith(f"{where}: ")
    assert ". Write " in text.splitlines()[0]


#: Keys beside a content on which they can have no effect.
IDLE = {
    "slant beside a layout": {"panels": "six-grid", "slant": "5 deg"},
    "slants beside a layout": {"panels": "six-grid", "slants": ["5 deg"]},
    "gutters beside a layout": {"panels": "six-grid", "gutters": ["5 mm"]},
    "gutter of a layout in a tier": {"tiers": [{"panels": "six-grid", "gutter": "1 mm"}]},
    "widths of tiers": {"tiers": [1, 2], "widths": [1, 2]},
    "heights of columns": {"columns": [1, 2], "heights": [1, 2]},
    "heights of a tier's panels": {"tiers": [{"panels": 2, "heights": [1, 2]}]},
    "gutters of one panel": {"tiers": [{"panels": 1, "gutters": ["5 mm"]}]},
    "slant of a spread's page": {"spread": True, "halves": [1, 1], "slant": "5 deg"},
}


@pytest.mark.parametrize("layout", IDLE.values(), ids=IDLE)
def test_nothing_is_dropped_in_silence(layout: dict[str, Any]) -> None:
    """A key that can have no effect where it stands is refused, or it has its effect."""
    before = [panel.outline for panel in page(SPLASH, without(layout)).panels]
    try:
        after = [panel.outline for panel in page(SPLASH, layout).panels]
    except InputError:
        return
    assert after != before


def without(layout: dict[str, Any]) -> dict[str, Any]:
    """The layout with nothing but what fills it."""
    content = ("panels", "tiers", "columns", "spread", "halves")
    kept = {key: value for key, value in layout.items() if key in content}
    for key in ("tiers", "columns"):
        if key in kept:
            kept[key] = [without(x) if isinstance(x, dict) else x for x in kept[key]]
    return kept


def test_every_page_is_told() -> None:
    """Problems of several pages are told together, of pages alike only once."""
    text = refusal({"tiers": [600], "count": 3}, SPLASH, {"columns": [700]})
    assert [line.split(": ")[0] for line in text.splitlines()] == [
        "page 1, pages[1].tiers[1]",
        "page 5, pages[3].columns[1]",
    ]
