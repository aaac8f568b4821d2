"""Panels on a page, however tiers, columns and letter maps are nested in each other."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.catalogue import LAYOUTS
from support.random_pages import mirrored, plain_pages
from support.spacing import spacing

from guidekit.errors import InputError
from guidekit.geometry.division.arrange import arrange
from guidekit.geometry.division.spacing import Spacing
from guidekit.issue.models.issue import Page
from guidekit.issue.reading import Reader
from guidekit.plane.box import Box

DPI = 600
frames = st.builds(
    lambda x, y, width, height: Box(x, y, x + width, y + height),
    *(st.integers(0, 300), st.integers(0, 300)),
    *(st.integers(8000, 9000), st.integers(8000, 9000)),
)
gutters = st.integers(0, 6)  # narrower than any panel of `plain_pages` in these frames


def panels(
    page: dict[str, Any], frame: Box, gaps: Spacing, direction: str = "ltr"
) -> dict[int, Box]:
    """The boxes by number of a page written as in an issue file."""
    node = Reader(LAYOUTS, direction).read(Page(**page))
    return {place.number: place.box for place in arrange(node, frame, gaps).panels}


def turned(box: Box) -> Box:
    """Rows and columns exchanged, so that one rule serves both ways."""
    return Box(box.top, box.left, box.bottom, box.right)


@given(plain_pages, frames, gutters, gutters, st.booleans())
def test_panels_never_overlap(
    page: dict[str, Any], frame: Box, across: int, down: int, flip: bool
) -> None:
    """Every panel lies in the frame with at least a pixel, and no two share one."""
    found = panels(page, frame, spacing(across, down, DPI, flip=flip))
    boxes = list(found.values())
    assert sorted(found) == list(range(1, len(found) + 1))
    for i, box in enumerate(boxes):
        assert frame.holds(box)
        assert not box.is_empty
        assert all(box.clipped(other).is_empty for other in boxes[i + 1 :])


@given(plain_pages, frames, gutters, gutters, st.booleans())
def test_one_gutter_and_flush_edges(
    page: dict[str, Any], frame: Box, across: int, down: int, flip: bool
) -> None:
    """From every edge of a panel the next panel is one gutter away, or the frame is right there."""
    boxes = list(panels(page, frame, spacing(across, down, DPI, flip=flip)).values())
    for gutter, whole, found in (
        (across, frame, boxes),
        (down, turned(frame), [turned(box) for box in boxes]),
    ):
        for box in found:
            beside = [x for x in found if x.top < box.bottom and box.top < x.bottom]
            right = [x.left - box.right for x in beside if x.left >= box.right]
            left = [box.left - x.right for x in beside if x.right <= box.left]
            assert min(right, default=None) == (gutter if right else None)
            assert min(left, default=None) == (gutter if left else None)
            assert right or box.right == whole.right
            assert left or box.left == whole.left


@given(plain_pages, frames, gutters, gutters)
def test_flip_is_the_mirror_image(page: dict[str, Any], frame: Box, across: int, down: int) -> None:
    """The mirrored page, read the other way, has the mirrored boxes under the same numbers.

    So facing pages are mirror images pixel by pixel, spare pixels included.
    """
    width = frame.right + 17
    found = panels(page, frame, spacing(across, down, DPI))
    facing = panels(
        mirrored(page), frame.mirrored(width), spacing(across, down, DPI, flip=True), "rtl"
    )
    assert {number: box.mirrored(width) for number, box in found.items()} == facing


@given(
    st.lists(st.integers(1, 4), min_size=1, max_size=4), frames, gutters, st.sampled_from([-1, 1])
)
def test_exact_gives_equal_panels(numbers: list[int], frame: Box, gutter: int, turn: int) -> None:
    """With `exact` tiers are equally tall and panels of a tier equally wide, to the pixel.

    The frame gives up less than a twentieth, half of it at either end.
    """
    gaps = spacing(gutter, gutter, DPI, exact=True, flip=turn < 0)
    boxes = list(panels({"tiers": numbers}, frame, gaps).values())
    assert len({box.height for box in boxes}) == 1
    for top in {box.top for box in boxes}:
        assert len({box.width for box in boxes if box.top == top}) == 1
    left, right = min(box.left for box in boxes), max(box.right for box in boxes)
    top, bottom = min(box.top for box in boxes), max(box.bottom for box in boxes)
    assert frame.width - (right - left) < frame.width / 20
    assert 0 <= (frame.right - right - (left - frame.left)) * turn <= 1
    assert 0 <= frame.bottom - bottom - (top - frame.top) <= 1


def test_exact_is_mirrored_too() -> None:
    """On the facing page the spare pixels of `exact` lie at the other end."""
    frame = Box(0, 0, 1000, 1000)
    right = panels({"tiers": [3]}, frame, spacing(0, 0, DPI, exact=True))
    left = panels({"tiers": [3]}, frame, spacing(0, 0, DPI, exact=True, flip=True), "rtl")
    assert right[1] == Box(0, 0, 333, 1000)
    assert left == {number: box.mirrored(1000) for number, box in right.items()}


@pytest.mark.parametrize(
    ("page", "said"),
    [
        (
            {"tiers": [2, 40]},
            "tiers[2]: 40 parts with 39 gutters of 30 px need at least 1210 px, and there are "
            "1000 px. Take fewer or smaller parts, or a narrower gutter.",
        ),
        (
            {"tiers": [{"panels": 2, "widths": [1, 5000]}]},
            "tiers[1]: part 1, with a share of 1, would be 0 px of 1000 px. "
            "Give it a larger share: at least 1 px for each panel.",
        ),
        (
            {"columns": [1, 1], "widths": ["100 px", "200 px"]},
            "columns: the parts and their gutters take 330 px of 1000 px. Give one of "
            "them a weight, such as 1, so that it takes the rest.",
        ),
        (
            {"tiers": [1, 1, 1], "heights": ["600 px", "600 px", 1]},
            "tiers: 3 parts with 2 gutters of 20 px need at least 1241 px, and there are "
            "1000 px. Take fewer or smaller parts, or a narrower gutter.",
        ),
        (
            {"tiers": [1, 1, 1], "heights": [1, 2]},
            "heights: 2 values where 3 should be. Write 3 values, one for each.",
        ),
        (
            {"map": "A B C", "widths": ["1 px", "2000 px", 1]},
            "widths: 3 parts with 2 gutters of 30 px need at least 2062 px, and there are "
            "1000 px. Take fewer or smaller parts, or a narrower gutter.",
        ),
    ],
)
def test_what_does_not_fit(page: dict[str, Any], said: str) -> None:
    """Parts that do not fit or do not fill the frame are refused with the numbers in pixels."""
    with pytest.raises(InputError) as caught:
        panels(page, Box(0, 0, 1000, 1000), spacing(30, 20, DPI))
    assert str(caught.value) == said


@pytest.mark.parametrize(
    "tiers",
    [
        [2, 3, 5, 7, 11, 13],
        [{"panels": 2, "widths": ["500 px", "497 px"]}, 3],  # lengths do not shrink
    ],
    ids=["many", "lengths"],
)
def test_exact_that_cannot_be(tiers: list[Any]) -> None:
    """What cannot come out equal within a twentieth of the frame is refused, and says so."""
    with pytest.raises(InputError) as caught:
        panels({"tiers": tiers}, Box(0, 0, 1000, 1000), spacing(3, 3, DPI, exact=True))
    assert str(caught.value) == (
        "these panels cannot all be made exactly equal within a twentieth of the frame. Take "
        'spare_pixels = "shared", where equal panels differ by at most one pixel, or make the '
        "shares simpler."
    )
