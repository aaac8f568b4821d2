"""Groups with a mask: one for each panel, in its shape, and nothing of them is seen outside it."""

from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from psd_tools import PSDImage
from support.ag_psd_reader import by_ag_psd, parts, pixels, rectangle
from support.areas import SMALL, covered
from support.catalogue import stack_of, writer_called
from support.inset_pages import inset
from support.laid_out_pages import outlines, page, polygon
from support.long import shortened
from support.picture_readers import groups_of, mask_of, values
from support.planes import plane
from support.psd_walk import walk

from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Group, Stack
from guidekit.raster.shapes import cover

GROUPS = {"drawing": ["文字", "Inks", "Pencils", "Colours"], "panel_groups": ["Inks", "Pencils"]}
LAYOUTS: dict[str, dict[str, Any]] = {
    "rectangles": {"tiers": [2, 1], "panel": {"1": {"bleed": ["top"]}}},
    "slanted": {"columns": [1, 1], "slant": "13 deg"},
    "inset": {
        "tiers": [1, 1],
        "insets": [inset(width="30 px", height="20 px", at=["50 px", "9 px"])],
    },
    "rounded inset over slanted": {
        "columns": [1, 1],
        "slant": "-9 deg",
        "insets": [inset(width="20 px", height="30 px", radius="8 px", gutter="4 px")],
    },
}
FORMATS: dict[str, dict[str, Any]] = {"": {}, " grey": {"colour": "grey"}, " 16 bit": {"depth": 16}}


class Masked(NamedTuple):
    """A page whose panels have groups, and its file."""

    plan: PagePlan
    path: Path

    @property
    def stack(self) -> Stack:
        """All of its canvas."""
        return stack_of(self.plan)

    @property
    def coverage(self) -> dict[str, np.ndarray]:
        """Every pixel of the canvas that a panel's group shows, 0 to 255, by the group's name."""
        canvas = self.plan.boxes.canvas
        groups = [m for m in self.stack.members if isinstance(m, Group) and m.mask]
        return {g.name: plane(cover(g.mask, canvas), canvas) for g in groups}


KINDS = [layout + form for layout in LAYOUTS for form in FORMATS]
FIRST = [*LAYOUTS, *(f"inset{form}" for form in FORMATS if form)]


@pytest.fixture(scope="module", params=shortened(KINDS, FIRST))
def masked(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Masked:
    """Each layout in colour, in grey and with 16 bits a channel."""
    name = max((f for f in LAYOUTS if request.param.startswith(f)), key=len)
    form = SMALL | GROUPS | FORMATS[request.param.removeprefix(name)]
    plan = page(LAYOUTS[name], format=form)
    return Masked(plan, written(stack_of(plan), tmp_path_factory.mktemp("masks")))


def written(stack: Stack, folder: Path) -> Path:
    """The stack as a layered file."""
    (made,) = writer_called("psd").write(stack)
    path = folder / made.name
    path.write_bytes(b"".join(made.pieces))
    return path


def on_canvas(mask: Any, box: tuple[int, ...], shape: tuple[int, ...]) -> np.ndarray:
    """The values of a mask on a plane that is 0 elsewhere."""
    found = np.zeros(shape, np.int64)
    found[box[1] : box[3], box[0] : box[2]] = mask
    return found


def test_a_group_for_each_panel(masked: Masked) -> None:
    """Every panel has one group, in reading order from the top, with each of its layers in it."""
    opened = PSDImage.open(masked.path)
    groups = {name: [x.name for x in reversed(g)] for name, g in groups_of(opened).items()}
    numbers = [panel.number for panel in masked.plan.panels]
    assert [*groups][::-1][1:] == [f"Panel {n}" for n in numbers]
    for n in numbers:
        assert groups[f"Panel {n}"] == [f"Inks {n}", f"Pencils {n}"]
    names = [layer.name for layer in opened.descendants()]
    assert "Inks" not in names
    assert names.count("文字") == names.count("Colours") == 1


def test_masks_by_bytes(masked: Masked) -> None:
    """By the specification: the smallest rectangle that holds the panel, 0 outside, its values."""
    walked = walk(masked.path.read_bytes())
    found = {record.unicode_name: record for record in walked.records if record.mask}
    assert [*found][::-1] == [*masked.coverage]
    for name, wanted in masked.coverage.items():
        mask = found[name].mask
        assert mask
        *box, outside = mask
        down, across = (np.flatnonzero(np.any(wanted, axis=axis)) for axis in (1, 0))
        assert box == [across[0], down[0], across[-1] + 1, down[-1] + 1]
        assert outside == 0
        stored = np.frombuffer(b"".join(found[name].planes[-2] or []), f">u{walked.depth // 8}")
        stored = stored.reshape(box[3] - box[1], box[2] - box[0])
        scale = 257 if walked.depth == 16 else 1
        assert np.array_equal(
            on_canvas(stored, tuple(box), wanted.shape), wanted.astype(int) * scale
        )


def test_masks_by_psd_tools(masked: Masked) -> None:
    """psd-tools sees a mask on each group of a panel, switched on, 0 outside, pixel for pixel."""
    opened = PSDImage.open(masked.path)
    found = {layer.name: layer for layer in opened.descendants() if layer.has_mask()}
    assert [*found][::-1] == [*masked.coverage]
    top = 65535 if opened.depth == 16 else 255
    for name, wanted in masked.coverage.items():
        mask = mask_of(found[name])
        assert (mask.background_color, mask.disabled) == (0, False)
        stored = np.rint(values(found[name], "mask")[..., 0].astype(float) * top)
        seen = on_canvas(stored, mask.bbox, wanted.shape)
        assert np.array_equal(seen, wanted.astype(int) * (top // 255)), name


def test_masks_by_ag_psd(masked: Masked) -> None:
    """ag-psd sees the same masks with the same rectangles and pixels."""
    file = by_ag_psd(masked.path)
    found = {part["name"]: part["mask"] for _, part in parts(file) if "mask" in part}
    assert [*found] == [*masked.coverage]
    for name, wanted in masked.coverage.items():
        mask = found[name]
        assert (mask["defaultColor"], mask["disabled"]) == (0, False)
        down, across = (np.flatnonzero(np.any(wanted, axis=axis)) for axis in (1, 0))
        assert rectangle(mask) == (across[0], down[0], across[-1] + 1, down[-1] + 1)
        if file["bitsPerChannel"] == 8:  # of 16 bits ag-psd 31 takes each packed byte for a value
            seen = on_canvas(pixels(mask)[..., 0], rectangle(mask), wanted.shape)
            assert np.array_equal(seen, wanted), name


def test_masks_are_the_panels(masked: Masked) -> None:
    """A mask covers of each pixel what the panel does by shapely (GEOS), insets cut out of it."""
    for panel, outline in zip(masked.plan.panels, outlines(masked.plan), strict=True):
        found = masked.coverage[f"Panel {panel.number}"].astype(float)
        rest = outline
        for hole in map(polygon, panel.cut_out):
            rest = rest - hole
        assert np.abs(found - covered(rest, *found.shape)).max() <= 1
        assert bool(panel.cut_out) == (rest.area < outline.area)


def test_an_inset_has_its_own_mask() -> None:
    """The panel below an inset is masked off where the inset and the gutter round it are."""
    plan = page(LAYOUTS["inset"], format=SMALL | GROUPS)  # inset (70, 29, 100, 49), gutter 6 px
    coverage = Masked(plan, Path()).coverage
    (number,) = (p.number for p in plan.panels if p.box.as_list() == [70, 29, 100, 49])
    over = coverage.pop(f"Panel {number}")
    wanted = np.zeros_like(over)
    wanted[29:49, 70:100] = 255
    assert np.array_equal(over, wanted)
    for below in coverage.values():
        assert not below[23:55, 64:106].any()
    assert coverage["Panel 1"][23:55, 60:64].all()
