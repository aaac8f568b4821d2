"""What is drawn in a group with a mask is seen only inside the mask, in the merged image too."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from psd_tools import PSDImage
from support.ag_psd_reader import by_ag_psd, pixels
from support.catalogue import writer_called
from support.composition import laid, paper
from support.picture_readers import mask_of, values
from support.planes import plane
from support.psd_walk import walk

from guidekit.layers.model import Blend, Group, Layer, Stack
from guidekit.plane.box import Box
from guidekit.plugins.stacks import CANVAS, RING, SHEET, sample
from guidekit.raster.shapes import Polygon, Rule, Shape, cover

SIZE = CANVAS.width, CANVAS.height
PAPER = (250, 248, 240)
BLUE, RED = (0, 114, 178), (213, 94, 0)
BOX = Box(60, 40, 200, 150)
DISC = Polygon(tuple((100 + 70 * np.cos(a), 90 + 60 * np.sin(a)) for a in np.arange(0, 6.28, 0.1)))
BESIDE = Polygon(((400.0, 10.0), (450.0, 20.0), (410.0, 90.0)))
SHEET_LAYER = Layer("paper", (SHEET,), PAPER, backdrop=True)


def written(folder: Path, *members: Layer | Group, **changes: object) -> Path:
    """A stack of these members over the sheet, as a layered file."""
    stack: Stack = sample(members=(*members, SHEET_LAYER), selected=None, **changes)
    (made,) = writer_called("psd").write(stack)
    path = folder / made.name
    path.write_bytes(b"".join(made.pieces))
    return path


def merged(path: Path) -> np.ndarray:
    """The merged image as Pillow opens it."""
    return np.asarray(Image.open(path).convert("RGB")).astype(int)


def inked(colour: tuple[int, int, int], *shapes: Shape) -> np.ndarray:
    """A plane of one colour whose alpha is what all of the shapes cover, 255 meaning all."""
    layer = np.full((*SIZE[::-1], 4), (*colour, 255), np.uint8)
    for shape in shapes:
        values = plane(cover((shape,), CANVAS), CANVAS).astype(int)
        layer[..., 3] = (2 * layer[..., 3].astype(int) * values + 255) // 510
    return layer


@pytest.mark.parametrize("mask", [Rule(BOX), RING, DISC], ids=["box", "slanted", "round"])
@pytest.mark.parametrize("drawn", [SHEET, DISC, Rule(Box(0, 90, 301, 96))])
def test_seen_only_inside(tmp_path: Path, mask: Shape, drawn: Shape) -> None:
    """The merged image is the paper, and on it the ink as far as both ink and mask reach."""
    found = merged(
        written(tmp_path, Group("masked", (Layer("ink", (drawn,), BLUE),), mask=(mask,)))
    )
    wanted = laid(paper(SIZE, *PAPER, 255), [inked(BLUE, drawn, mask)])[..., :3]
    assert np.array_equal(found, wanted)
    outside = plane(cover((mask,), CANVAS), CANVAS) == 0
    assert (found[outside] == PAPER).all()
    assert (found == BLUE).all(axis=2).any()


def test_the_box_to_the_pixel(tmp_path: Path) -> None:
    """With a box for a mask, ink all over the canvas is the box and not one pixel more."""
    path = written(tmp_path, Group("masked", (Layer("ink", (SHEET,), BLUE),), mask=(Rule(BOX),)))
    wanted = np.full((*SIZE[::-1], 3), PAPER)
    wanted[40:150, 60:200] = BLUE
    assert np.array_equal(merged(path), wanted)
    assert np.array_equal(pixels(by_ag_psd(path))[..., :3], wanted)
    (layer,) = [r for r in walk(path.read_bytes()).records if r.unicode_name == "ink"]
    assert (layer.left, layer.top, layer.right, layer.bottom) == (0, 0, *SIZE), "kept whole"


def test_masks_in_masks(tmp_path: Path) -> None:
    """In a masked group in a masked group, ink is seen where both masks are."""
    inner = Group("inner", (Layer("ink", (SHEET,), BLUE),), mask=(Rule(BOX),))
    path = written(tmp_path, Group("outer", (inner,), mask=(RING,)))
    wanted = laid(paper(SIZE, *PAPER, 255), [inked(BLUE, Rule(BOX), RING)])[..., :3]
    assert np.array_equal(merged(path), wanted)


def test_neighbours_are_not_masked(tmp_path: Path) -> None:
    """What lies above or below a masked group is seen all over."""
    above, below = Layer("above", (Rule(Box(0, 0, 301, 9)),), RED), Layer("below", (SHEET,), RED)
    group = Group("masked", (Layer("ink", (SHEET,), BLUE),), mask=(Rule(BOX),))
    found = merged(written(tmp_path, above, group, below))
    wanted = np.full((*SIZE[::-1], 3), RED)
    wanted[40:150, 60:200] = BLUE
    assert np.array_equal(found, wanted)


@pytest.mark.parametrize("depth", [8, 16])
def test_a_mask_that_covers_nothing(tmp_path: Path, depth: int) -> None:
    """A mask beside the canvas shows nothing; its rectangle is empty, and the file parses."""
    group = Group("masked", (Layer("ink", (SHEET,), BLUE),), mask=(BESIDE,))
    path = written(tmp_path, group, depth=depth)
    if depth == 8:  # Pillow does not open 16 bits of colour
        assert (merged(path) == PAPER).all()
    walked = walk(path.read_bytes())
    assert walked.records[-1].mask == (0, 0, 0, 0, 0)
    opened = PSDImage.open(path)
    mask = mask_of(opened[-1])
    assert (mask.bbox, mask.background_color) == ((0, 0, 0, 0), 0)
    seen = np.rint(values(opened, "color").astype(float) * (2**depth - 1)) / (
        257 if depth == 16 else 1
    )
    assert (seen == PAPER).all()
    assert [part["name"] for part in by_ag_psd(path)["children"]] == ["paper", "masked"]


def test_hidden_masked_groups(tmp_path: Path) -> None:
    """A hidden group shows nothing inside its mask either."""
    group = Group("masked", (Layer("ink", (SHEET,), BLUE),), visible=False, mask=(RING,))
    assert (merged(written(tmp_path, group)) == PAPER).all()


@pytest.mark.parametrize("blend", ["normal", "multiply"])
@pytest.mark.parametrize("mask", [Rule(BOX), RING], ids=["box", "slanted"])
def test_composed_by_psd_tools(tmp_path: Path, blend: Blend, mask: Shape) -> None:
    """psd-tools, which composes the layers itself, comes to the merged image within 2 of 255."""
    half = Layer("half", (DISC,), BLUE, opacity=102, blend=blend)
    path = written(tmp_path, Group("masked", (half,), mask=(mask,)))
    composed = np.asarray(PSDImage.open(path).composite(force=True).convert("RGB")).astype(int)
    assert np.abs(composed - merged(path)).max() <= 2
    assert (composed != PAPER).any()
