"""Panels and gutters lie where weasyprint, an independent layout engine, puts CSS Grid tracks.

Source: CSS Grid Layout 2, tracks in `fr`, `gap`, `grid-template-areas` (10.1, 12.7.1, 7.3).
"""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.catalogue import LAYOUTS
from support.random_pages import letter_maps
from support.reference import reference
from support.spacing import spacing

from guidekit.geometry.division.arrange import arrange
from guidekit.geometry.division.divide import PartsInRow, divide
from guidekit.issue.models.issue import Page
from guidekit.issue.models.share import Share
from guidekit.issue.reading import Reader
from guidekit.plane.box import Box
from guidekit.units import Length, half_up

DPI = 600
STYLE = "@page { size: 40in 40in; margin: 0 } body { margin: 0 } a { display: block }"


def laid_out(grid: str, items: dict[str, str]) -> dict[str, list[float]]:
    """The edges of the items of a grid in pixels at 600 dpi, by name; items are empty links."""
    html = reference("weasyprint").HTML
    cells = "".join(f'<a href="#{name}" style="{style}"></a>' for name, style in items.items())
    text = f'<style>{STYLE}</style><div style="display: grid; {grid}">{cells}</div>'
    links = html(string=text).render().pages[0].links
    return {name: [x * DPI / 96 for x in edges] for _, name, edges, _ in links}  # 1 in = 96 CSS px


def inches(pixels: int) -> str:
    """Pixels at 600 dpi as CSS writes a length."""
    return f"{pixels / DPI:.12f}in"


@pytest.mark.parametrize(
    "tracks", ["1 " * n for n in range(1, 10)] + ["1 2", "2 3 1", "0.5 1 1.25"]
)
@pytest.mark.parametrize(
    ("width", "gutter"), [("180 mm", "4 mm"), ("270 mm", "8 mm"), ("6 in", "1/8 in")]
)
def test_tracks(tracks: str, width: str, gutter: str) -> None:
    """Parts lie within a pixel of `fr` tracks of the same weights, width and gap."""
    numbers = tracks.split()
    names = [f"p{i}" for i in range(len(numbers))]
    css_gap = gutter.replace("1/8", "0.125").replace(" ", "")
    theirs = laid_out(
        f"width: {width.replace(' ', '')}; column-gap: {css_gap}; grid-auto-rows: 1in;"
        f"grid-template-columns: {' '.join(f'{x}fr' for x in numbers)}",
        dict.fromkeys(names, ""),
    )
    total, gap = (half_up(Length.parse(x).px(DPI)) for x in (width, gutter))
    shares = tuple(Share(weight=Fraction(x)) for x in numbers)
    mine = divide(total, PartsInRow(shares, (gap,) * (len(shares) - 1)), DPI)
    for name, (begin, end) in zip(names, mine, strict=True):
        assert abs(begin - theirs[name][0]) <= 1
        assert abs(end - theirs[name][2]) <= 1


@pytest.mark.parametrize(
    "tracks", ["40mm 1fr 2fr", "25% 1fr 25%", "1fr 1.5in 10%", "30mm 1fr 30mm"]
)
def test_lengths_and_percentages(tracks: str) -> None:
    """A length or percentage takes its part first, and weights share the rest, as tracks do."""
    shares = []
    for number, unit in re.findall(r"([\d.]+)(\S+)", tracks):
        value = Fraction(number)
        kinds = {"fr": Share(weight=value), "%": Share(percent=value)}
        shares.append(kinds.get(unit) or Share(length=Length(value, unit)))
    total, gap = 4252, 94
    theirs = laid_out(
        f"width: {inches(total)}; column-gap: {inches(gap)}; grid-auto-rows: 1in;"
        f"grid-template-columns: {tracks}",
        dict.fromkeys(("p0", "p1", "p2"), ""),
    )
    mine = divide(total, PartsInRow(tuple(shares), (gap,) * (len(shares) - 1)), DPI)
    for i, (begin, end) in enumerate(mine):
        assert abs(begin - theirs[f"p{i}"][0]) <= 1
        assert abs(end - theirs[f"p{i}"][2]) <= 1


@given(letter_maps(), st.integers(0, 60), st.integers(0, 60), st.data())
def test_letter_maps(letters: str, across: int, down: int, data: st.DataObject) -> None:
    """Panels of a letter map are the areas of a grid of the same map and weights, to half a pixel.

    Frame and gaps are whole pixels here, so that only the edges are rounded.
    """
    rows = letters.splitlines()
    width, height = data.draw(st.integers(1500, 6000)), data.draw(st.integers(1500, 6000))
    weights = st.sampled_from(["1", "2", "1.5"])
    widths = [data.draw(weights) for _ in rows[0].split()]
    heights = [data.draw(weights) for _ in rows]
    theirs = laid_out(
        f"width: {inches(width)}; height: {inches(height)};"
        f"gap: {inches(down)} {inches(across)};"
        f"grid-template-columns: {' '.join(f'{x}fr' for x in widths)};"
        f"grid-template-rows: {' '.join(f'{x}fr' for x in heights)};"
        f"grid-template-areas: {' '.join(repr(row) for row in rows)}",
        {letter: f"grid-area: {letter}" for letter in set(letters.split())},
    )
    page = Page(map=letters, widths=[float(x) for x in widths], heights=[float(x) for x in heights])
    reader = Reader(LAYOUTS, "ltr")
    node = reader.read(page)
    placed = arrange(node, Box(0, 0, width, height), spacing(across, down, DPI)).panels
    mine = {place.number: place.box for place in placed}
    assert reader.letters.keys() == theirs.keys()
    for letter, edges in theirs.items():
        (number,) = reader.letters[letter]
        for a, b in zip(mine[number].as_list(), edges, strict=True):
            assert abs(a - b) <= 0.501


@pytest.mark.parametrize(
    "letters", ["A .\n. B", "A A .\nA A B", ". . .\n. A .\n. . B", "... A\nB B", "A . B"]
)
def test_empty_places(letters: str) -> None:
    """A dot leaves its place empty, its gutters too, as a null cell token does (7.3)."""
    rows = letters.splitlines()
    theirs = laid_out(
        f"width: {inches(3000)}; height: {inches(2000)}; gap: {inches(20)} {inches(40)};"
        f"grid-template-columns: repeat({len(rows[0].split())}, 1fr);"
        f"grid-template-rows: repeat({len(rows)}, 1fr);"
        f"grid-template-areas: {' '.join(repr(row) for row in rows)}",
        {letter: f"grid-area: {letter}" for letter in set(letters.split()) if "." not in letter},
    )
    reader = Reader(LAYOUTS, "ltr")
    placed = arrange(reader.read(Page(map=letters)), Box(0, 0, 3000, 2000), spacing(40, 20, DPI))
    assert [place.number for place in placed.panels] == [*range(1, len(theirs) + 1)]
    mine = {letter: placed.panels[number - 1].box for letter, (number,) in reader.letters.items()}
    assert mine.keys() == theirs.keys()
    for letter, edges in theirs.items():
        for a, b in zip(mine[letter].as_list(), edges, strict=True):
            assert abs(a - b) <= 0.501
