"""Insets: where they lie, how large they are and in which order they are read.

The panel of a splash is (60, 60, 580, 780), 520 × 720 pixels; the gutter across is 10 pixels and
the border 4.
"""

from typing import Any

import pytest
from support.inset_pages import inset, splash
from support.laid_out_pages import boxes, page, refusal


@pytest.mark.parametrize(
    ("corner", "box"),
    [
        ("top-left", [74, 74, 174, 154]),
        ("top-right", [466, 74, 566, 154]),
        ("bottom-left", [74, 686, 174, 766]),
        ("bottom-right", [466, 686, 566, 766]),
    ],
)
def test_corners(corner: str, box: list[int]) -> None:
    """In a corner an inset keeps a gutter's distance from the inside of the panel's border."""
    assert boxes(page(splash(inset(corner=corner)))) == [[60, 60, 580, 780], box]


@pytest.mark.parametrize(
    ("keys", "box"),
    [
        ({"gutter": "0 px"}, [64, 64, 164, 144]),
        ({"gutter": "0.3 in", "corner": "bottom-right"}, [446, 666, 546, 746]),
        ({"width": "25 %", "height": "12.5 %"}, [74, 74, 204, 164]),
        ({"width": "2 in", "corner": "top-right"}, [366, 74, 566, 154]),
        ({"at": ["0 px", "0 px"]}, [60, 60, 160, 140]),
        ({"at": ["40 px", "30 %"]}, [100, 276, 200, 356]),
        ({"at": ["50 %", "1 in"], "width": "50 %", "gutter": "7 px"}, [320, 160, 580, 240]),
        ({"at": ["10.1 %", "10.05 %"]}, [113, 132, 213, 212]),
    ],
)
def test_places_and_sizes(keys: dict[str, Any], box: list[int]) -> None:
    """Sizes and places are lengths or percentages of the panel, from its upper left, half up."""
    assert boxes(page(splash(inset(**keys))))[1] == box


def test_over_several_panels() -> None:
    """Over several panels an inset measures from the box that holds them."""
    layout = {"tiers": [2, 2], "insets": [inset(over=[1, 2], corner="bottom-right", width="50 %")]}
    plan = page(layout)
    assert boxes(plan)[2] == [306, 318, 566, 398]


READ = [
    ([inset(over=1)], [1, "inset", 2, 3]),
    ([inset(over=2)], [1, 2, "inset", 3]),
    ([inset(over=[2, 1], width="400 px")], [1, 2, "inset", 3]),
    ([inset(over=[1, 3], corner="bottom-left")], [1, 2, 3, "inset"]),
]


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize(("insets", "order"), READ)
def test_read_after_what_lies_below(
    insets: list[dict[str, Any]], order: list[Any], direction: str
) -> None:
    """An inset is read after the last of the panels below it; the others keep their order."""
    layout = {"tiers": [2, 1]}
    plain = boxes(page(layout, direction=direction))
    found = boxes(page(layout | {"insets": insets}, direction=direction))
    assert [plain.index(box) + 1 if box in plain else "inset" for box in found] == order


def test_several_insets_in_order() -> None:
    """Insets over one panel are read as they are listed, before those over later panels.

    The first two are 2 and 3 on the page, so that the other panel is 4.
    """
    corners = ["bottom-right", "top-left"]
    insets = [inset(over=4, corner="top-left"), *(inset(corner=corner) for corner in corners)]
    found = boxes(page({"tiers": [2], "insets": insets}))
    assert [box[:2] for box in found] == [[60, 60], [201, 686], [74, 74], [325, 60], [339, 74]]


def test_over_the_letter_of_a_map() -> None:
    """The panels below may be named by the letters of a map."""
    layout = {"map": "A A B\nC C B", "insets": [inset(over=["A", "C"], corner="bottom-left")]}
    assert boxes(page(layout))[2] == [74, 686, 174, 766]


@pytest.mark.parametrize(
    ("keys", "box"),
    [
        ({"at": ["-1 px", "0 px"]}, [59, 60, 159, 140]),
        ({"at": ["421 px", "0 px"]}, [481, 60, 581, 140]),
        ({"at": ["0 px", "100 %"]}, [60, 780, 160, 860]),
        ({"width": "511 px"}, [74, 74, 585, 154]),
        ({"height": "8 in", "corner": "bottom-right"}, [466, -34, 566, 766]),
    ],
)
def test_outside_their_panels_is_refused(keys: dict[str, Any], box: list[int]) -> None:
    """An inset that is not wholly inside the panels below is refused with the boxes."""
    assert refusal(splash(inset(**keys))) == (
        f"page 1, pages[1].insets[1]: the inset {box} does not lie inside the panels "
        "[60, 60, 580, 780]. Make it smaller, or move it: at most 520 × 720 px with its gutter, "
        "inside them."
    )


def test_beyond_a_slanted_side_is_refused() -> None:
    """An inset may not lie over the slanted gutter beside its panel, nor over the next panel."""
    layout = {"columns": [1, 1], "slant": "15 deg", "insets": [inset(corner="bottom-right")]}
    assert "insets[1]" in refusal(layout)
