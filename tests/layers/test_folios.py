"""Printed page numbers: which, where, and on a layer that prints."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.laid_out_pages import issue, layers, page, pixels, plans

from guidekit.issue.printed_numbers import roman

SPLASH: dict[str, Any] = {"panels": "splash"}


def printed(*pages: dict[str, Any], **keys: Any) -> list[str]:
    """What is printed on each page; a dash for nothing."""
    return [
        word
        for plan in plans(issue(*pages, **({"folios": {}} | keys)))
        for word in ([folio.words for folio in plan.folios] or ["-"])
    ]


def test_sections_are_numbered_separately() -> None:
    """Front matter in roman numbers, a story from 1, back matter without; blanks count unseen."""
    found = printed(
        {"kind": "credits", "section": {"title": "Front", "numbers": "roman", "start": 3}},
        {"kind": "blank"},
        SPLASH | {"section": {"title": "Story", "numbers": "arabic", "start": 1}, "count": 2},
        SPLASH | {"folio": False},
        SPLASH | {"section": "Chapter 2", "count": 2},
        SPLASH | {"section": {"numbers": "none"}},
    )
    assert found == ["iii", "-", "1", "2", "-", "4", "5", "-"]


def test_a_scroll_has_none() -> None:
    """Nothing is printed on the canvases of a scroll, which has no pages to turn."""
    plan = page({"scroll": [{"ratio": "1:1"}]}, preset="vertical-scroll", folios={})
    assert plan.folios == ()


def test_a_spread_has_two() -> None:
    """Each page of a spread has its number on its own side, whichever way the book reads."""
    for direction in ("ltr", "rtl"):
        keys: dict[str, Any] = {"folios": {}, "direction": direction}
        spread = page(SPLASH, SPLASH | {"spread": True}, **keys)
        assert [folio.words for folio in spread.folios] == ["2", "3"]
        xs = [folio.x for folio in spread.folios]
        assert xs == sorted(xs, reverse=direction == "rtl")


@given(st.integers(1, 3_999))
def test_roman_numbers(number: int) -> None:
    """Read back by the rule: a smaller letter before a larger one is taken off.

    CSS Counter Styles 3, section 6.1.
    """
    worth = dict(zip("ivxlcdm", (1, 5, 10, 50, 100, 500, 1000), strict=True))
    values = [worth[letter] for letter in roman(number)]
    read = sum(-v if v < after else v for v, after in zip(values, [*values[1:], 0], strict=True))
    assert read == number
    assert not any(letter * 4 in roman(number) for letter in "ivxlcdm")


@pytest.mark.parametrize("edge", ["bottom", "top"])
@pytest.mark.parametrize("place", ["outside", "inside", "centre"])
def test_where_they_stand(place: str, edge: str) -> None:
    """In the margin between trim and safe area, in line with it, mirrored on facing pages.

    The format has 100 dpi, a trim from 20 to 620 and 820, a safe area 40 px inside it.
    """
    folios = {"place": place, "edge": edge, "height": "20 px"}
    left, right = plans(issue(SPLASH | {"count": 3}, folios=folios))[1:]
    for plan, outer in ((left, "left"), (right, "right")):
        rows, columns = np.nonzero(pixels(plan, "Folio"))
        top = 20 if edge == "top" else 820 - 40
        assert top <= rows.min()
        assert rows.max() < top + 40
        assert abs(rows.max() - rows.min() - 20) <= 2
        inside = "left" if outer == "right" else "right"
        at = {"outside": outer, "inside": inside, "centre": "centre"}[place]
        expected = {"left": 60, "right": 580, "centre": 320}[at]
        found = {
            "left": columns.min(),
            "right": columns.max() + 1,
            "centre": (columns.min() + columns.max() + 1) / 2,
        }
        assert abs(found[at] - expected) <= 3  # a digit has a little room on either side


def test_it_prints_and_is_no_guide() -> None:
    """The folio is a layer of its own outside the guides; without [folios] there is none."""
    assert not layers(page(SPLASH, folios={}))["Folio"].locked
    assert "Folio" not in layers(page(SPLASH))


@pytest.mark.parametrize("edge", ["bottom", "top"])
def test_the_page_label_keeps_clear(edge: str) -> None:
    """No word of the page label stands over a printed number."""
    folios = {"place": "outside", "edge": edge, "height": "24 px"}
    plan = page(SPLASH, SPLASH, folios=folios, format={"bleed": "0 px"})
    label, folio = pixels(plan, "Page label"), pixels(plan, "Folio")
    assert label.any()
    assert not (label.astype(bool) & folio.astype(bool)).any()
