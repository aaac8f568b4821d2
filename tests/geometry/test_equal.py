"""Equal panels to the pixel: the least loss, found again by trying every length."""

from itertools import count
from typing import Any

import pytest
from hypothesis import event, given
from hypothesis import strategies as st
from support.catalogue import LAYOUTS
from support.laid_out_pages import boxes, page
from support.page_walk import Walk
from support.random_pages import letter_maps
from support.spacing import spacing

from guidekit.errors import InputError
from guidekit.geometry.division.arrange import arrange
from guidekit.geometry.division.divide import divide
from guidekit.issue.models.issue import Page
from guidekit.issue.reading import Reader
from guidekit.plane.box import Box

README_PAGE = {"tiers": [3, {"widths": [1, 2], "height": 2}, 1]}
MARGIN = {"spare_pixels": "margin"}

weights = st.sampled_from([1, 1, 1.5, 2])


@st.composite
def parts(draw: st.DrawFn, key: str, depth: int) -> dict[str, Any]:
    """A part of few panels, so that the lengths it can fill are close together."""
    kinds = ["number"] * bool(key) + ["map"] * (depth < 2) + ["tiers", "columns"] * (depth > 0)
    kind = draw(st.sampled_from(kinds))
    if kind == "map":
        return {"map": draw(letter_maps())}
    number = draw(st.integers(1, 3))
    across = kind == "columns" or (kind == "number" and key == "tiers")
    part: dict[str, Any] = {"panels": number}
    if kind != "number":
        part = {kind: [draw(parts(kind, depth - 1)) for _ in range(number)]}
    if draw(st.booleans()):
        part["widths" if across else "heights"] = draw(
            st.lists(weights, min_size=number, max_size=number)
        )
    return part


def fillable(part: dict[str, Any], key: str, axis: str, gap: int, most: int) -> int:
    """The lengths up to `most` that a part can fill, as the bits of a number."""
    whole = (1 << (most + 1)) - 1
    if "map" in part:
        rows = part["map"].splitlines()
        number = len(rows[0].split()) if axis == "across" else len(rows)
        return row([1] * number, [whole - 1] * number, gap, whole)
    kind = next(k for k in ("tiers", "columns", "panels") if k in part)
    inner = part[kind] if kind != "panels" else [{"panels": 1}] * part["panels"]
    across = kind == "columns" or (kind == "panels" and key == "tiers")
    each = [whole - 1 if x == {"panels": 1} else fillable(x, kind, axis, gap, most) for x in inner]
    if across != (axis == "across"):
        for lengths in each:
            whole &= lengths
        return whole
    shares = part.get("widths" if across else "heights", [1] * len(each))
    return row(shares, each, gap, whole)


def row(shares: list[float], each: list[int], gap: int, whole: int) -> int:
    """The lengths that parts in a row can fill if those of equal shares are equal."""
    sums = 1 << gap * (len(shares) - 1)
    for share in dict.fromkeys(shares):
        sizes, number = whole, shares.count(share)
        for other, lengths in zip(shares, each, strict=True):
            sizes &= lengths if other == share else whole
        more = 0
        for size in range(whole.bit_length()):
            if sizes >> size & 1:
                more |= sums << number * size
        sums = more & whole
    return sums


@given(parts("", 2), st.integers(2500, 2600), st.integers(2500, 2600), st.integers(0, 9))
def test_the_least_loss(layout: dict[str, Any], width: int, height: int, gap: int) -> None:
    """No longer frame can be filled with equal parts equal; each length is tried for itself."""
    node = Reader(LAYOUTS, "ltr").read(Page(**layout))
    best = [
        fillable(layout, "", axis, gap, length).bit_length() - 1
        for axis, length in (("across", width), ("down", height))
    ]
    frame = Box(0, 0, width, height)
    try:
        found = arrange(node, frame, spacing(gap, gap, 600, exact=True))
    except InputError:
        event("refused")
        assert best[0] < width * 0.95 or best[1] < height * 0.95
        return
    assert [found.frame.width, found.frame.height] == best
    places = [place.box.as_list() for place in found.panels]
    whole, _ = Walk(places, count(), 1, 600, gap, gap, exact=True).part(layout)
    assert whole == found.frame.as_list()


@pytest.mark.parametrize("dpi", [72, 100, 300, 350, 600])
def test_a_page_of_unequal_and_equal_tiers(dpi: int) -> None:
    """Three equal panels over two of which one is twice as wide lose two pixels at most."""
    plan = page(README_PAGE, preset="us-comic", format=MARGIN | {"dpi": dpi})
    found, frame = boxes(plan), plan.boxes.safe_area
    sizes = [box[2] - box[0] for box in found]
    assert len(set(sizes[:3])) == 1
    assert abs(sizes[4] - 2 * sizes[3]) <= 2
    assert frame.width - sizes[5] <= 2
    assert found[5][3] - found[0][1] == frame.height, "nothing down the page has to be given up"


def test_unequal_parts_give_nothing_up() -> None:
    """Parts of which no two are alike take every pixel of the frame, each near to its share."""
    plan = page({"tiers": [{"widths": [1, 2, 4]}]}, format=MARGIN)
    assert [b - a for a, _, b, _ in boxes(plan)] == [71, 143, 286]  # of 500: 71.4, 142.9, 285.7


def test_lengths_do_not_shrink() -> None:
    """A part with a length keeps it to the pixel; the frame and the others give way."""
    plan = page({"tiers": [{"widths": ["101 px", 1, 1, 1]}]}, format=MARGIN)
    assert [b - a for a, _, b, _ in boxes(plan)] == [101, 129, 129, 129]  # 520 - 30 - 101 = 389


def test_lengths_that_fill_the_page_on_paper() -> None:
    """Lengths and gutters that fill the frame but for rounding are equal at any resolution."""
    size = {"width": "270 mm", "height": "300 mm"}
    layout = {"tiers": [{"widths": ["61.5 mm"] * 4}]}
    for dpi in (72, 150, 300, 600, 1200):
        changes = {"dpi": dpi, "trim": size, "safe_area": "0 mm", "gutter": "8 mm"} | MARGIN
        assert len({b - a for a, _, b, _ in boxes(page(layout, format=changes))}) == 1


def test_longer_frames_take_no_longer(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a page can fill is computed, not searched for: 290,000 px take the steps of 2,900."""
    node = Reader(LAYOUTS, "ltr").read(Page(tiers=[7, {"widths": [1, 2, 1]}, 5, 3]))
    calls: list[Any] = []

    def counted(*arguments: Any) -> Any:
        calls.append(arguments)
        return divide(*arguments)

    monkeypatch.setattr("guidekit.geometry.division.spacing.divide", counted)
    for length in (2_900, 290_000):
        calls.append("next")
        arrange(node, Box(0, 0, length, length), spacing(10, 10, 600, exact=True))
    assert calls.index("next", 1) * 2 == len(calls)


def test_a_part_stays_near_its_share() -> None:
    """Equal panels are not bought with a part that is more than a twentieth from its share.

    Seven panels beside eleven in twice the width leave 77 times so many pixels for each choice of
    the two parts, so that in narrow frames there is none.
    """
    layout = {"columns": [{"tiers": [7]}, {"tiers": [11]}], "widths": [1, 2]}
    node = Reader(LAYOUTS, "ltr").read(Page(**layout))
    refused = []
    for width in range(100, 500):
        try:
            found = arrange(node, Box(0, 0, width, 400), spacing(0, 0, 600, exact=True))
        except InputError as error:
            refused.append(str(error))
            continue
        left, whole = found.panels[6].box.right - found.frame.left, found.frame.width
        assert left % 7 == (whole - left) % 11 == 0
        assert 20 * abs(3 * left - whole) <= whole
        assert 20 * whole >= 19 * width
    assert 0 < len(refused) < 400
    assert all("within a twentieth of the frame" in text for text in refused)
