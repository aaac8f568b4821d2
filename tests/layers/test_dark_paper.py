"""On dark paper words and borders are white, and guides that are hard to see are told."""

from collections.abc import Iterable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.laid_out_pages import layers, page, plans
from support.reference import reference

from guidekit import build_issue
from guidekit.geometry.page import PagePlan
from guidekit.layers.guides import faint
from guidekit.layers.palette import BLACK, WHITE, contrast, ink_on, luminance, seen_on
from guidekit.shipped import shipped


def faint_guides(pages: Iterable[PagePlan]) -> dict[str, float]:
    """The guides that are hard to see, among those that come with guidekit."""
    return faint.faint_guides(pages, shipped().guides)


colours = st.tuples(*[st.integers(0, 255)] * 3)
INK = ("Page label", "Panel numbers", "Trim marks", "Panel borders")
MARKS = {"trim_marks": "shown"}


@given(colours)
def test_luminance_by_colorspacious(colour: tuple[int, int, int]) -> None:
    """Relative luminance is the Y of CIE XYZ of an sRGB colour, which another library computes."""
    xyz = reference("colorspacious").cspace_convert(colour, "sRGB255", "XYZ1")
    assert luminance(colour) == pytest.approx(xyz[1], abs=0.0005)


def test_worked_values() -> None:
    """W3C, WCAG 2.2: black on white is 21 : 1; #767676 is the lightest grey with 4.5 : 1 on white
    (the latter as commonly quoted, from memory).
    """
    assert contrast(BLACK, WHITE) == pytest.approx(21)
    assert contrast((0x76,) * 3, WHITE) >= 4.5 > contrast((0x77,) * 3, WHITE)


@given(colours)
def test_ink_is_seen_on_every_paper(paper: tuple[int, int, int]) -> None:
    """Words and borders have at least the 4.5 : 1 that W3C asks of text, on any paper."""
    assert ink_on(paper) in (BLACK, WHITE)
    assert contrast(ink_on(paper), paper) >= 4.5


@pytest.mark.parametrize("paper", ["#ffffff", "#fff4e0", "#101018", "#003080"])
def test_words_and_borders(paper: str) -> None:
    """Label, numbers, trim marks and panel borders are black on light paper, white on dark."""
    ink = BLACK if paper.startswith("#ff") else WHITE
    found = layers(page({"tiers": [2], "guides": MARKS}, format={"paper": paper}))
    assert {found[name].colour for name in INK} == {ink}


@given(colours, colours, st.integers(0, 255))
def test_how_a_colour_looks(
    paper: tuple[int, int, int], colour: tuple[int, int, int], share: int
) -> None:
    """A colour over paper lies between the two, and is the one or the other at either end."""
    seen = seen_on(paper, colour, share)
    for below, over, mixed in zip(paper, colour, seen, strict=True):
        assert abs(mixed - (below + (over - below) * share / 255)) <= 0.5
    assert (seen_on(paper, colour, 0), seen_on(paper, colour, 255)) == (paper, colour)


@pytest.mark.parametrize("paper", ["#ffffff", "#fff4e0", "#f4f4f4", "#000000", "#101018"])
def test_papers_on_which_all_is_seen(paper: str) -> None:
    """On white, cream and black paper no shown guide is hard to see."""
    assert faint_guides([page({"tiers": [2]}, format={"paper": paper})]) == {}


def test_grey_paper() -> None:
    """On a middle grey the contrast of those that are hard to see is told, of hidden ones not."""
    found = faint_guides([page({"tiers": [2]}, format={"paper": "#808080"})])
    assert found["Trim"] == pytest.approx(contrast((213, 94, 0), (128, 128, 128)))
    assert found["Trim"] < 1.1
    assert "Construction lines" not in found
    assert "Page label" not in found


def test_the_caution(tmp_path: Path) -> None:
    """It names the paper, each guide and its contrast."""
    path = tmp_path / "issue.toml"
    text = 'title = "Grey"\npreset = "us-comic"\nformat = { dpi = 30, paper = "#808080" }\n'
    path.write_text(text + '[[pages]]\ncount = 4\npanels = "splash"\n')
    told = build_issue(path, tmp_path / "out").cautions
    (line,) = [line for line in told if "hard to see" in line]
    start = "On paper #808080 these guides are hard to see: Safe area (1.2 : 1), Trim (1.0 : 1), "
    assert line.startswith(start)
    assert "1.5 : 1" in line


def test_pages_that_differ() -> None:
    """A guide that only one page shows is told too."""
    text = (
        'title = "Grey"\npreset = "us-comic"\nformat = { dpi = 30, paper = "#808080" }\n'
        '[[pages]]\npanels = "splash"\n[[pages]]\npanels = "splash"\nguides.thirds = "shown"\n'
    )
    assert "Thirds" in faint_guides(plans(text))
