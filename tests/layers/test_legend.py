"""The legend: every guide that is seen, once, in its own colour and pattern, with its name."""

from typing import Any

import numpy as np
import pytest
from support.catalogue import stack_of
from support.laid_out_pages import layers, members, page, pixels

from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Group, Layer, all_layers
from guidekit.raster.shapes import Rule, Stroke, cover
from guidekit.raster.text import Text

EVERY = {
    "legend": "shown",
    "thirds": "shown",
    "diagonals": "shown",
    "centre_lines": "hidden",
    "trim_marks": "shown",
    "construction_lines": "off",
}
FULL = {"square_grid": "50 px", "fold_strip": "20 px"}
GRID = {"tiers": [2, 3, 1], "guides": EVERY}


def legend(plan: PagePlan) -> list[Layer]:
    """The layers of the legend."""
    group = members(plan)["Legend"]
    assert isinstance(group, Group)
    assert group.locked
    return [*all_layers((group,))]


def seen_guides(plan: PagePlan) -> list[Layer]:
    """The visible guides of lines and tints, the uppermost first."""
    guides, *_ = stack_of(plan).members
    assert isinstance(guides, Group)
    return [
        guide
        for guide in guides.members
        if isinstance(guide, Layer)
        and guide.visible
        and not any(isinstance(shape, Text) for shape in guide.shapes)
    ]


@pytest.fixture(name="plan", scope="module")
def _plan() -> PagePlan:
    return page(GRID, format=FULL)


def test_every_guide_that_is_seen(plan: PagePlan) -> None:
    """Each guide of lines or tints that is shown has its words; hidden ones and texts have none."""
    words, *samples = legend(plan)
    names = [layer.name for layer in seen_guides(plan)]
    assert [text.text for text in words.shapes if isinstance(text, Text)] == names
    assert [sample.name for sample in samples] == [f"{name} sample" for name in names]
    assert {"Square grid", "Thirds", "Trim marks", "Safe area", "Gutters"} < set(names)
    assert not {"Centre lines", "Construction lines", "Page label"} & set(names)


def test_samples_look_like_their_guides(plan: PagePlan) -> None:
    """A sample has its guide's colour, opacity, weight and pattern."""
    _, *samples = legend(plan)
    for sample, guide in zip(samples, seen_guides(plan), strict=True):
        assert (sample.colour, sample.opacity) == (guide.colour, guide.opacity)
        (shape,) = sample.shapes
        lines = [*guide.shapes, *inside(guide)]
        strokes = {(line.weight, line.dash) for line in lines if isinstance(line, Stroke)}
        rules = {(weight(line), line.dash) for line in lines if isinstance(line, Rule)}
        thin = {(pixels, dash) for pixels, dash in rules if pixels <= 4}
        if isinstance(shape, Stroke):
            assert (shape.weight, shape.dash) in strokes
        elif isinstance(shape, Rule) and thin:
            assert (shape.box.height, shape.dash) in thin


def weight(line: Rule) -> int:
    """How thick a ruled line is, in pixels; two are ordinary on this page."""
    return min(line.box.width, line.box.height)


def inside(layer: Layer) -> list[Any]:
    """The shapes within clips."""
    return [inner for shape in layer.shapes for inner in getattr(shape, "shapes", ())]


@pytest.mark.parametrize(
    "keys",
    [
        {"tiers": [2, 3, 1]},
        {"tiers": [2, 1], "panel": {"1": {"bleed": ["top"]}, "2": {"bleed": ["top"]}}},
        {"panels": "splash", "note": "Words that take nearly all of the width of the page"},
    ],
)
def test_it_stands_where_nothing_is(keys: dict[str, Any]) -> None:
    """The legend touches no panel, line, mark or other words, and nothing of it is cut."""
    shown = {"legend": "shown", "trim_marks": "shown"}
    plan = page(keys | {"guides": shown}, format={"dpi": 200, "safe_area": "60 px"})
    canvas = plan.boxes.canvas
    shapes = tuple(shape for layer in legend(plan) for shape in layer.shapes)
    own = cover(shapes, canvas.inset(-canvas.width))
    assert canvas.holds(own.box)
    covered = sum(pixels(plan, layer.name).astype(int) for layer in legend(plan)) > 0
    others = set(layers(plan)) - {layer.name for layer in legend(plan)} - {"Paper", "Gutters"}
    for name in others:
        if layers(plan)[name].shapes and layers(plan)[name].visible:
            assert not (covered & (pixels(plan, name) > 0)).any(), name


def test_words_and_samples_do_not_overlap(plan: PagePlan) -> None:
    """No sample touches words or another sample."""
    total = np.sum([pixels(plan, layer.name) > 0 for layer in legend(plan)], axis=0)
    assert total.max() == 1


def test_off_by_default() -> None:
    """Nobody has a legend without asking for it; hidden it is there, and not seen."""
    assert "Legend" not in members(page({"tiers": [2]}))
    hidden = members(page({"tiers": [2], "guides": {"legend": "hidden"}}))["Legend"]
    assert not hidden.visible


def test_nothing_to_tell() -> None:
    """Where no line or tint is shown there is no legend."""
    off = dict.fromkeys(("safe_area", "trim", "bleed", "gutters", "fold_strip"), "off")
    assert "Legend" not in members(page({"tiers": [2], "guides": off | {"legend": "shown"}}))


def test_many_words_in_lines() -> None:
    """Every guide at once takes several lines rather than letters that cannot be read."""
    everything = dict.fromkeys(
        ("thirds", "diagonals", "trim_marks", "panel_centre_lines", "legend"), "shown"
    ) | {"construction_lines": "shown", "lettering_lines": "shown"}
    plan = page({"tiers": [2, 3], "guides": everything}, format=FULL | {"safe_area": "60 px"})
    words = [text for text in legend(plan)[0].shapes if isinstance(text, Text)]
    assert len({text.y for text in words}) > 1
    assert min(text.height for text in words) >= 5
    assert len(words) == len(np.unique([f"{text.x} {text.y}" for text in words]))
