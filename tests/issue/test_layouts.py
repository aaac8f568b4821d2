"""The shipped layouts: how many, how they lie on a page, how they are shown and named."""

import json
import re
import tomllib
from io import BytesIO
from itertools import combinations
from math import prod
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from support.catalogue import LAYOUTS
from support.laid_out_pages import polygon
from support.long import shortened
from support.reference import reference
from typer.testing import CliRunner

from guidekit import load_issue
from guidekit.cli import app
from guidekit.errors import InputError
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue.reading import number_of_panels
from guidekit.pictures import (
    CANVASES,
    CHARACTERS,
    GUTTER,
    arranged,
    layout_png,
    layout_text,
    panels_of,
    shape_of_canvas,
)
from guidekit.plane.box import Box
from guidekit.plane.polygon import area, corners
from guidekit.shipped import shipped_folder
from guidekit.units import Length

SHIPPED = dict(zip(LAYOUTS, LAYOUTS.things(), strict=True))
NAMES = sorted(SHIPPED)
NONE = Length.parse("0 px")
WORDS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
         "eleven", "twelve")  # fmt: skip
CLAIMS = (  # where a name or its sentence says how many panels there are, and how many more
    (r"^(?:spread-)?(\w+)-(?:grid|tiers|columns)\b.*:", 0),
    (r"\b(?:tall|wide|large)-.*(?:over|under|and)-(\w+):", 1),
    (r"-of-(\w+)(?<!tiers):", 0),
    (r": (\w+)(?: equal| tall| wide)* panels?\b(?!, then| on )", 0),
    (r": (\w+) tiers of (\w+)(?: equal.* panels\.|, the\b)", 0),
)


def planned(folder: Path, text: str, direction: str = "ltr") -> list[PagePlan]:
    """The laid-out canvases of a small issue."""
    head = f'title = "Tide"\npreset = "us-comic"\ndirection = "{direction}"\n'
    (folder / "tide.toml").write_text(head + text, "utf-8")
    return list(plan_issue(load_issue(folder / "tide.toml")))


def boxes(plan: PagePlan) -> list[Box]:
    """The panels by number."""
    assert [panel.number for panel in plan.panels] == list(range(1, len(plan.panels) + 1))
    return [panel.box for panel in plan.panels]


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, PagePlan]]:
    """For each direction, the canvas of every layout, on a page or a spread of its own."""
    order = sorted(NAMES, key=lambda name: not SHIPPED[name].spread)
    text = "[[pages]]\ntiers = [1]\n"  # page 1, so that spreads begin on page 2
    for name in order:
        spread = str(SHIPPED[name].spread).lower()
        text += f'[[pages]]\npanels = "{name}"\nspread = {spread}\n'
    found = {}
    for direction in ("ltr", "rtl"):
        plans = planned(tmp_path_factory.mktemp(direction), text, direction)
        found[direction] = dict(zip(order, plans[1:], strict=True))
    return found


def test_library() -> None:
    """Far over 40 different arrangements, under plain names of which no file repeats another's."""
    files = sorted((shipped_folder() / "layouts").glob("*.toml"))
    assert sorted(name for f in files for name in tomllib.loads(f.read_text("utf-8"))) == NAMES
    for name, layout in SHIPPED.items():
        assert re.fullmatch(r"[a-z]+(-([a-z]+|\d))*", name)
        assert len(name) <= 26, "a longer name breaks the columns of layouts list"
        assert re.fullmatch(r"[A-Z][^.]{10,80}\.", layout.about)
    found = (panels_of(layout, LAYOUTS, 900, 1400, GUTTER) for layout in SHIPPED.values())
    assert len({tuple((p.region.limits, p.region.cuts) for p in panels) for panels in found}) > 100


@pytest.mark.parametrize("name", NAMES)
def test_number(name: str) -> None:
    """A layout has as many panels as its name and its sentence say, where they say it."""
    number = number_of_panels(SHIPPED[name], LAYOUTS)
    for pattern, more in CLAIMS:
        found = re.search(pattern, f"{name}: {SHIPPED[name].about.lower()}")
        if found and found[1] in WORDS:
            assert number == prod(map(WORDS.index, found.groups())) + more, pattern
    assert not re.search(r"\d", name) or number == sum(map(int, re.findall(r"\d", name)))


@pytest.mark.parametrize("name", NAMES)
def test_on_a_page(name: str, books: dict[str, dict[str, PagePlan]]) -> None:
    """Panels lie a gutter apart inside the frame, reach its edges, and leave gutters only."""
    shapely, plan = reference("shapely"), books["ltr"][name]
    frame, shapes = plan.boxes.safe_area, list[Any]()
    for panel in plan.panels:
        assert min(panel.box.width, panel.box.height) > 200  # a third of an inch
        points = corners(panel.outline) if isinstance(panel.outline, Box) else panel.outline
        shapes.append(shapely.Polygon(points))
    for one, other in combinations(shapes, 2):
        assert one.distance(other) >= plan.across - 1e-4
    shapes += map(polygon, plan.empty)
    assert shapely.union_all(shapes).bounds == pytest.approx(frame.as_list(), abs=1e-6)
    bare = arranged(SHIPPED[name], LAYOUTS, 900, 1400, NONE)
    regions = [*(place.region for place in bare.panels), *bare.empty]
    whole = sum(area(region.points) for region in regions)
    assert whole == pytest.approx(900 * 1400)


@pytest.mark.parametrize("name", NAMES)
def test_right_to_left(name: str, books: dict[str, dict[str, PagePlan]]) -> None:
    """Right-to-left books mirror all; no panel comes after one that begins lower and further on."""
    plan, mirrored = books["ltr"][name], books["rtl"][name]
    near = 1 if SHIPPED[name].spread else 0  # pixels; pages are mirrored exactly
    for box, other in zip(boxes(plan), boxes(mirrored), strict=True):
        expected = box.mirrored(plan.boxes.canvas.width).as_list()
        assert other.as_list() == pytest.approx(expected, abs=near)
    for box, later in combinations(boxes(plan), 2):
        assert later.top > box.top or later.left > box.left


def test_fold(books: dict[str, dict[str, PagePlan]]) -> None:
    """On spreads, an even row's middle gutter lies on the fold, and no other panel ends near it."""
    for plan in (plan for plan in books["ltr"].values() if plan.side == "spread"):
        assert plan.boxes.fold is not None
        ends = {x - plan.boxes.fold for box in boxes(plan) for x in (box.left, box.right)}
        assert sorted(x for x in ends if abs(x) < 300) in ([], [-56, 57])


def test_mirror_off(tmp_path: Path) -> None:
    """With mirror = false the drawing stays in right-to-left books, and the numbers turn."""
    own = '[[pages]]\npanels = "mine"\n[layouts.mine]\ncolumns = [1, 2]\nwidths = [2, 1]\n'
    (page,), (turned,) = planned(tmp_path, own), planned(tmp_path, own, "rtl")
    assert boxes(turned) == [box.mirrored(page.boxes.canvas.width) for box in boxes(page)]
    upper, lower, large = boxes(planned(tmp_path, own + "mirror = false", "rtl")[0])
    assert upper.left == lower.left > large.right
    assert [large.width, upper.width, lower.width] == [box.width for box in boxes(page)]


@pytest.mark.parametrize("name", shortened(NAMES, NAMES[::4]))
def test_text(name: str) -> None:
    """In text every panel has its frame and its number, on a canvas of its own kind."""
    text = layout_text(SHIPPED[name], LAYOUTS)
    lines = text.splitlines()
    columns, rows = CHARACTERS[shape_of_canvas(SHIPPED[name])]
    panels = panels_of(SHIPPED[name], LAYOUTS, 900, 900, NONE)
    assert set(text) <= set("┌┐└┘│─╱╲· \n0123456789")
    assert (len(lines), max(map(len, lines))) == (rows, columns)
    assert sorted(map(int, re.findall(r"\d+", text))) == [panel.number for panel in panels]
    if not any(panel.region.cuts or panel.region.shape for panel in panels):
        framed = [panel for panel in panels if panel.box.height >= 900 * 1.5 / rows]
        assert all(text.count(corner) == len(framed) for corner in "┌┐└┘")
        assert not {"╱", "╲"} & set(text)


def test_text_of_empty_places() -> None:
    """A place for the title is dotted, and no panel is."""
    rows = layout_text(SHIPPED["title-over-five"], LAYOUTS).splitlines()
    first = next(n for n, row in enumerate(rows) if "┌" in row)
    assert first > 1
    assert all(set(row) == set("· ") and row.count("·") > 9 for row in rows[:first])
    assert "·" not in "".join(rows[first:])


def test_text_of_leaning_gutters() -> None:
    """Leaning edges are drawn as such: a stroke where an upright edge moves on, steps where a level
    one does.
    """
    rows = layout_text(SHIPPED["two-columns-leaning"], LAYOUTS).splitlines()
    gaps = [re.search(r"[│╱][│╱]|┐┌|┘└", row[1:-1]) for row in rows]
    places = [gap.start() for gap in gaps if gap]
    assert len(places) == len(rows)
    assert places == sorted(places, reverse=True)  # it leans to the right at its top
    assert places[0] > places[-1]
    assert "╱" in "".join(rows)
    assert "╲" not in "".join(rows)
    falling = layout_text(SHIPPED["two-tiers-falling"], LAYOUTS).splitlines()[:-1]
    steps = [row.index("└──") for row in falling if "└──" in row]
    assert len(steps) > 2
    assert steps == sorted(steps)


@pytest.mark.parametrize(
    ("name", "size"),
    [("splash", (24, 18)), ("spread-splash", (48, 18)), ("daily-strip-of-three", (48, 8))],
)
def test_text_has_the_shape_of_the_canvas(name: str, size: tuple[int, int]) -> None:
    """A character is twice as tall as wide: a page is 24 by 36, a strip three times as wide as
    high.
    """
    lines = layout_text(SHIPPED[name], LAYOUTS).splitlines()
    assert (max(map(len, lines)), len(lines)) == size


@pytest.mark.parametrize("name", shortened(NAMES, NAMES[::4]))
def test_png(name: str) -> None:
    """The picture is a few kilobytes, grey in the middle of each panel, white around them."""
    data = layout_png(SHIPPED[name], LAYOUTS)
    assert len(data) < 6000
    picture = Image.open(BytesIO(data)).convert("RGBA")
    width, height = CANVASES[shape_of_canvas(SHIPPED[name])]
    assert picture.size == (width + 20, height + 20)
    assert picture.getpixel((5, 5)) == (255, 255, 255, 255)
    for panel in panels_of(SHIPPED[name], LAYOUTS, width, height, GUTTER):
        inside = polygon(panel.region.points).buffer(-2).representative_point()
        x, y = int(inside.x), int(inside.y)
        assert picture.getpixel((x + 10, y + 10)) == (205, 205, 205, 255)


def test_own_layouts(tmp_path: Path) -> None:
    """An issue's own layouts go before shipped ones; a wrong name and a circle are told."""
    own = '[[pages]]\npanels = "splash"\n[layouts.splash]\ntiers = [1, { panels = "six-grid" }]\n'
    assert len(planned(tmp_path, own)[0].panels) == 7
    with pytest.raises(InputError, match=r'no layout "nine-gird".*Did you mean "nine-grid"\?'):
        planned(tmp_path, '[[pages]]\npanels = "nine-gird"')
    own = '[layouts.dawn]\npanels = "dusk"\n[layouts.dusk]\ntiers = [1, { panels = "dawn" }]\n'
    with pytest.raises(InputError, match=r"in a circle \(dawn → dusk → dawn\)"):
        planned(tmp_path, own + '[[pages]]\npanels = "dawn"')


def test_commands(tmp_path: Path) -> None:
    """The commands list by number, in text and JSON, and show one; a picture overwrites nothing."""

    def run(*words: str) -> Any:
        return CliRunner().invoke(app, ["layouts", *words])

    found = json.loads(run("list", "--panels", "6", "--json").stdout)["layouts"]
    six = [name for name in NAMES if number_of_panels(SHIPPED[name], LAYOUTS) == 6]
    assert found == [
        {
            "name": name,
            "panels": 6,
            "spread": False,
            "about": SHIPPED[name].about,
            "from": "guidekit",
        }
        for name in six
    ]
    lines = run("list", "--panels", "6").stdout.splitlines()
    assert lines[0] == "6 panels"
    assert [line.split()[0] for line in lines[1:]] == six
    listed = run("list").stdout.splitlines()
    assert sorted(line.split()[0] for line in listed if line.startswith("  ")) == NAMES
    headings = [line for line in listed if not line.startswith("  ")]
    assert headings[:3] == ["1 panel", "2 panels", "3 panels"]
    assert run("show", "six-grid").stdout.endswith(layout_text(SHIPPED["six-grid"], LAYOUTS) + "\n")
    assert isinstance(run("show", "six-gird").exception, InputError)
    file = tmp_path / "six.png"
    assert run("show", "six-grid", "--png", str(file)).exit_code == 0
    assert file.read_bytes() == layout_png(SHIPPED["six-grid"], LAYOUTS)
    assert isinstance(run("show", "splash", "--png", str(file)).exception, InputError)
    assert file.read_bytes() == layout_png(SHIPPED["six-grid"], LAYOUTS)
