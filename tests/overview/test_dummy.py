"""Sheets of paper: a dummy that folds into the book, sheets for first sketches."""

from io import BytesIO
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from support.laid_out_pages import issue
from support.programs import output
from support.reference import reference
from support.samples import issue_file, run_here

from guidekit import InputError, load_issue
from guidekit.layers.model import Layer, Stack, all_layers
from guidekit.overview.make import looked_over
from guidekit.overview.on_paper.first_sketches import PAPERS, Sketches, sketch_sheets
from guidekit.overview.on_paper.imposition import dummy_text
from guidekit.overview.on_paper.sheets import dummy_bytes, sketch_files
from guidekit.plane.box import Box, around
from guidekit.raster.shapes import Rule

PAGE: dict[str, Any] = {"tiers": [1, {"panels": 2, "slant": "10 deg"}]}


def test_which_pages_share_a_sheet(tmp_path: Path) -> None:
    """Sheets of four pages, the outermost first; what is missing to the last is blank."""
    path = issue_file(tmp_path, issue(PAGE | {"count": 7}, binding="saddle-stitch"))
    assert dummy_text(load_issue(path)).splitlines() == [
        "sheet 1 of 2, outside: blank | 1",
        "sheet 1 of 2, inside: 2 | 7",
        "sheet 2 of 2, outside: 6 | 3",
        "sheet 2 of 2, inside: 4 | 5",
    ]
    perfect = issue_file(tmp_path, issue(PAGE | {"count": 2}, binding="perfect"))
    assert dummy_text(load_issue(perfect)).splitlines() == [
        "leaf 1 of 1, front: 1",
        "leaf 1 of 1, back: 2",
    ]


@pytest.mark.parametrize(
    ("keys", "first", "last"),
    [
        ({"binding": "saddle-stitch", "cover": {"wrap": False}},
         ["round all pages, outside: back cover | front cover",
          "round all pages, inside: inside front cover | inside back cover"],
         "sheet 1 of 1, inside: 2 | 3"),
        ({"binding": "saddle-stitch", "cover": {"wrap": False}, "direction": "rtl"},
         ["round all pages, outside: front cover | back cover",
          "round all pages, inside: inside back cover | inside front cover"],
         "sheet 1 of 1, inside: 3 | 2"),
        ({"binding": {"kind": "perfect", "caliper": "1 mm"}, "cover": {}},
         ["round all pages, outside: cover", "round all pages, inside: inside cover"],
         "leaf 2 of 2, back: 4"),
        ({"binding": "loose", "cover": {"wrap": False}},
         ["leaf of the front cover, front: front cover",
          "leaf of the front cover, back: inside front cover"],
         "leaf of the back cover, back: back cover"),
    ],
)  # fmt: skip
def test_covers_go_round_the_pages(
    keys: dict[str, Any], first: list[str], last: str, tmp_path: Path
) -> None:
    """Opened flat and seen from outside, the front is where page 1 is on the outermost sheet.

    Of a saddle-stitched book the cover is one sheet more, folded as the others: were it of pages,
    they would be 0 and 5, -1 and 6 of a book of four.
    """
    path = issue_file(tmp_path, issue(PAGE | {"count": 4}, **keys))
    lines = dummy_text(load_issue(path)).splitlines()
    assert (lines[:2], lines[-1]) == (first, last)
    data = dummy_bytes(path)
    with reference("pikepdf").open(BytesIO(data)) as file:
        assert len(file.pages) == len(lines)


def test_a_wrapped_cover_is_as_wide_as_its_book(tmp_path: Path) -> None:
    """Twice the trim and the spine, at the scale of the pages where the paper allows it."""
    form = {"dpi": 100, "trim": {"width": "90 mm", "height": "120 mm"}, "bleed": "3 mm"}
    binding = {"kind": "perfect", "caliper": "5 mm"}
    keys: dict[str, Any] = {"binding": binding, "cover": {}, "format": form}
    path = issue_file(tmp_path, issue(PAGE | {"count": 4}, **keys))
    out = tmp_path / "book.pdf"
    out.write_bytes(dummy_bytes(path, paper="a4"))
    dark = rendered(out, 100) < 235
    columns = np.flatnonzero(dark.mean(axis=0) > 0.2)
    millimetres = (columns[-1] - columns[0]) * 25.4 / 100
    assert millimetres == pytest.approx(2 * 90 + 2 * 5, abs=1)  # two leaves of 5 mm


@pytest.mark.parametrize(
    ("keys", "sides", "size"),
    [
        ({"binding": "saddle-stitch"}, 4, (842, 595)),
        ({}, 4, (842, 595)),
        ({"binding": "loose"}, 8, (595, 842)),
        ({"binding": "zine"}, 1, (842, 595)),
    ],
)
def test_a_sheet_of_paper_for_each_side(
    keys: dict[str, Any], sides: int, size: tuple[int, int], tmp_path: Path
) -> None:
    """As many pages of the PDF as sides of sheets, on ISO A4, and the same bytes each time."""
    path = issue_file(tmp_path, issue(PAGE | {"count": 8}, **keys))
    data = dummy_bytes(path, paper="a4")
    with reference("pikepdf").open(BytesIO(data)) as file:
        found = {tuple(round(float(x)) for x in [*page.mediabox][2:]) for page in file.pages}
        assert (len(file.pages), found) == (sides, {size})
    assert data == dummy_bytes(path, paper="a4")


@pytest.mark.parametrize(
    ("preset", "size"), [("zine-8-page", (842, 595)), ("zine-8-page-letter", (792, 612))]
)
def test_a_zine_is_on_its_own_paper(preset: str, size: tuple[int, int], tmp_path: Path) -> None:
    """The paper of which a zine's page is an eighth is taken by itself, A4 or US letter."""
    path = issue_file(tmp_path, issue(PAGE | {"count": 8}, binding="zine", preset=preset))
    with reference("pikepdf").open(BytesIO(dummy_bytes(path))) as file:
        assert [round(float(x)) for x in [*file.pages[0].mediabox][2:]] == [*size]


def rendered(path: Path, dpi: int) -> np.ndarray:
    """The first page of a PDF in grey, by poppler."""
    data = output("pdftoppm", "-r", str(dpi), "-gray", "-singlefile", path)
    return np.asarray(reference("PIL.Image").open(BytesIO(data)))


def test_pages_of_a_zine_lie_on_their_heads(tmp_path: Path) -> None:
    """The upper row of the sheet, turned round, is the lower one but for the numbers of pages."""
    path = issue_file(tmp_path, issue(PAGE | {"count": 8}, binding="zine"))
    out = tmp_path / "zine.pdf"
    assert run_here("dummy", path, "--out", out).code == 0
    sheet = rendered(out, 100) < 200
    height, width = (edge // 2 * 2 for edge in sheet.shape)
    upper, lower = sheet[: height // 2, :width], sheet[height // 2 : height, :width]
    assert met(upper[::-1, ::-1], lower) > 0.95
    assert met(upper, lower) < 0.8


def met(one: np.ndarray, other: np.ndarray) -> float:
    """What part of the dark pixels of one picture has dark ones of the other within 2 px."""
    near = [np.roll(other, (y, x), (0, 1)) for y in range(-2, 3) for x in range(-2, 3)]
    return float((one & np.any(near, axis=0)).sum() / one.sum())


def test_halves_of_a_spread_are_cut_apart(tmp_path: Path) -> None:
    """On the innermost sheet a spread is whole; its panel runs across the fold."""
    pages = [PAGE, {"panels": 1, "spread": True}, PAGE]
    path = issue_file(tmp_path, issue(*pages, binding="saddle-stitch"))
    out = tmp_path / "book.pdf"
    out.write_bytes(dummy_bytes(path))
    inside = output("pdftoppm", "-r", "100", "-gray", "-f", "2", "-singlefile", out)
    dark = np.asarray(reference("PIL.Image").open(BytesIO(inside))) < 200
    middle = dark.shape[1] // 2
    beside = dark[:, middle - 30 : middle - 6].all(axis=1)
    assert (beside == dark[:, middle + 6 : middle + 30].all(axis=1)).all()
    assert beside.sum() >= 2  # the upper and the lower border of the panel


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize("pages", [2, 8, 20])
@pytest.mark.parametrize("paper", [*PAPERS])
def test_sketches_are_in_true_proportion(
    paper: str, pages: int, direction: str, tmp_path: Path
) -> None:
    """Every page once, 3 : 4 as its trim, inside the paper, over no other and over no line."""
    text = issue(PAGE, PAGE | {"spread": True}, PAGE | {"count": 12}, direction=direction)
    book = looked_over(issue_file(tmp_path, text)).openings
    stacks = [*sketch_sheets(book, Sketches(paper, pages), "Tests", direction == "rtl")]
    count = 0
    for stack in stacks:
        assert stack.members[0] == stack.selected == Layer("Sketch")
        edges = boxes_in(stack, "Trim")
        fours = [edges[at : at + 4] for at in range(len(edges))]
        boxes = [around(four) for four in fours if is_frame(four)]
        notes = boxes_in(stack, "Lines for notes")
        for box in boxes:
            assert stack.canvas.inset(100).holds(box)
            shares = 2 if box.width > box.height else 1
            assert box.width / shares / box.height == pytest.approx(3 / 4, rel=0.01)
            assert all(box.clipped(line).is_empty for line in notes)
            count += shares
        assert all(a.inset(3).clipped(b.inset(3)).is_empty for a, b in combinations(boxes, 2))
    assert count == 15


def boxes_in(stack: Stack, name: str) -> list[Box]:
    """The ruled lines of a layer."""
    (layer,) = (layer for layer in all_layers(stack.members) if layer.name == name)
    return [shape.box for shape in layer.shapes if isinstance(shape, Rule)]


def is_frame(edges: list[Box]) -> bool:
    """True of the four lines of one outline."""
    return len(edges) == 4 and edges[0].top == edges[2].top and edges[0].width == edges[1].width > 9


def test_covers_are_sketched_too(tmp_path: Path) -> None:
    """In their true proportion, smaller where flaps make them wider; pages stay as they were."""
    keys: dict[str, Any] = {"binding": {"kind": "perfect", "caliper": "1 mm"}}
    heights = []
    for cover in ({}, {"cover": {"flaps": "200 px"}}):
        path = issue_file(tmp_path, issue(PAGE | {"count": 4}, **keys, **cover))
        (stack,) = sketch_sheets(looked_over(path).openings, Sketches(), "Tests", rtl=False)
        edges = boxes_in(stack, "Trim")
        fours = [edges[at : at + 4] for at in range(len(edges))]
        boxes = [around(four) for four in fours if is_frame(four)]
        heights.append({box.height for box in boxes if box.width < box.height})
    wide = next(box for box in boxes if box.width > box.height)
    plan = next(v.plan for o in looked_over(path).openings for v in o.views if v.plan.name)
    trim = plan.boxes.trim
    assert wide.width / wide.height == pytest.approx(trim.width / trim.height, rel=0.01)
    assert heights[0] == heights[1]


def test_sketches_in_layers(tmp_path: Path) -> None:
    """A PSD for each sheet opens in a reader of others, its first layer empty."""
    path = issue_file(tmp_path, issue(PAGE | {"count": 9}))
    files = sketch_files(path, ".psd", Sketches(pages=4))
    assert len(files) == 3
    file = reference("psd_tools").PSDImage.open(BytesIO(files[0]))
    assert [layer.name for layer in file][::-1] == ["Sketch", "Pages", "Paper"]
    assert next(layer for layer in file if layer.name == "Sketch").bbox == (0, 0, 0, 0)
    assert not next(layer for layer in file.descendants() if layer.name == "Panels").visible


def test_thumbnails_from_the_command_line(tmp_path: Path) -> None:
    """Sheets of layers are numbered; where one is there already, none is written."""
    path = issue_file(tmp_path, issue(PAGE | {"count": 9}))
    call = ["thumbnails", path, "--out", tmp_path / "t.psd", "--per-sheet", 4]
    assert run_here(*call).code == 0
    assert sorted(p.name for p in tmp_path.glob("*.psd")) == ["t-1.psd", "t-2.psd", "t-3.psd"]
    again = run_here(*call)
    assert (again.code, again.err.count("this file is there already")) == (2, 3)
    (tmp_path / "t-1.psd").unlink()
    assert run_here(*call).code == 2
    assert not (tmp_path / "t-1.psd").exists()
    assert "--per-sheet" in run_here("thumbnails", path, "--per-sheet", 0).err


@pytest.mark.parametrize(
    ("ending", "wish", "said"),
    [(".png", Sketches(), ".pdf or .psd"), (".pdf", Sketches("a3"), "a4 or letter")],
)
def test_wrong_sheets(ending: str, wish: Sketches, said: str, tmp_path: Path) -> None:
    """Another ending or paper is refused with those there are; so is a scroll."""
    path = issue_file(tmp_path, issue(PAGE))
    with pytest.raises(InputError, match=said):
        sketch_files(path, ending, wish)
    scroll = issue({"scroll": [{"ratio": "1:1"}]}, preset="vertical-scroll")
    with pytest.raises(InputError, match="a scroll is not printed"):
        dummy_bytes(issue_file(tmp_path, scroll))
