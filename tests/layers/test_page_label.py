"""The page label stands where no art is: on every shipped preset and every kind of page."""

from typing import Any

import numpy as np
import pytest
from support.catalogue import PRESETS, preset_called
from support.laid_out_pages import layers, page, pixels, plans, toml
from support.long import shortened
from support.planes import plane

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.label import page_words
from guidekit.plane.box import Box
from guidekit.raster.shapes import cover
from guidekit.raster.text import Text

PAPER = [name for name in PRESETS if name != "vertical-scroll"]
FACING = [name for name in PAPER if preset_called(name).facing]
EVERY_LINE = {
    "trim_marks": "shown",
    "centre_lines": "shown",
    "fold_strip": "shown",
    "screen_marks": "shown",
}
PAGES: dict[str, dict[str, Any]] = {
    "splash": {"panels": "splash"},
    "full bleed": {"panels": "splash", "panel": {"1": {"bleed": "all"}}},
    "grid": {"tiers": [2, 3, 1]},
    "top bleeds": {"tiers": [2, 1], "panel": {"1": {"bleed": ["top"]}, "2": {"bleed": ["top"]}}},
    "all but a corner": {
        "tiers": [2, 2],
        "panel": {str(n): {"bleed": ["top", "bottom"][n > 2 :][:1]} for n in (1, 3, 4)},
    },
}
SPREADS: dict[str, dict[str, Any]] = {
    "spread": {"tiers": [2, 3]},
    "spread of one picture": {"panels": "splash", "panel": {"1": {"bleed": "all"}}},
    "one half bleeds": {"halves": [{"panels": 1}, 2], "panel": {"1": {"bleed": "all"}}},
}


def laid_out(preset: str, keys: dict[str, Any], spread: bool, dpi: int) -> PagePlan:
    """A page, or a spread where it can stand, in a small but ordinary resolution."""
    pages = [{"panels": "splash"}, keys | {"spread": True}] if spread else [keys]
    head = {
        "title": "Tests",
        "preset": preset,
        "format": {"dpi": dpi, "fold_strip": "8 mm"},
        "guides": EVERY_LINE,
    }
    lines = [f"{key} = {toml(value)}" for key, value in head.items()]
    for keys in pages:
        lines += ["[[pages]]", *(f"{key} = {toml(value)}" for key, value in keys.items())]
    return plans("\n".join(lines))[-1]


def label(plan: PagePlan) -> list[Text]:
    """The words of the page label."""
    shapes = layers(plan)["Page label"].shapes
    words = [shape for shape in shapes if isinstance(shape, Text)]
    assert len(words) == len(shapes)
    return words


def inked(plan: PagePlan, name: str) -> np.ndarray:
    """Where a guide is; nowhere if the page has none."""
    canvas = plan.boxes.canvas
    nothing = np.zeros((canvas.height, canvas.width), np.uint8)
    return pixels(plan, name) > 0 if name in layers(plan) else nothing > 0


def art(plan: PagePlan) -> np.ndarray:
    """Where panels are."""
    canvas = plan.boxes.canvas
    covered = np.zeros((canvas.height, canvas.width), bool)
    for panel in plan.panels:
        left, top, right, bottom = panel.box.as_list()
        covered[max(0, top) : bottom, max(0, left) : right] = True
    return covered


CASES = [(preset, name, keys, False) for preset in PAPER for name, keys in PAGES.items()]
CASES += [(preset, name, keys, True) for preset in FACING for name, keys in SPREADS.items()]


FIRST = [case for case in CASES if case[0] in ("us-comic", "jis-b5", "daily-strip")]


@pytest.mark.parametrize(
    ("preset", "name", "keys", "spread"),
    shortened(CASES, FIRST),
    ids=[f"{c[0]}-{c[1]}" for c in CASES],
)
def test_clear_of_all(preset: str, name: str, keys: dict[str, Any], spread: bool) -> None:
    """The label touches no panel, no line and no mark, is off the fold, and is whole.

    Where panels take all of a page it lies in what is cut off, or in the margin if letters cannot
    be read there.
    """
    plan = laid_out(preset, keys, spread, 150)
    label = inked(plan, "Page label")
    boxes = plan.boxes
    lines = ("Trim", "Trim marks", "Bleed", "Safe area", "Centre lines", "Fold strip")
    for other in (*lines, "Panel numbers", "Panel borders"):
        assert not (label & inked(plan, other)).any(), other
    if boxes.fold is not None:
        assert not label[:, boxes.fold - 2 : boxes.fold + 2].any()
    whole = cover(layers(plan)["Page label"].shapes, boxes.canvas.inset(-4 * boxes.canvas.width))
    assert (whole.values > 0).any()
    assert boxes.canvas.holds(whole.box)
    if not (everywhere := art(plan))[safe_rows(plan)].all():
        assert not (label & everywhere).any()
    elif (label & everywhere).any():
        top = boxes.trim
        rows = np.flatnonzero(label.any(axis=1))
        assert (
            rows[0] > top.bottom
            or rows[-1] < boxes.safe_area.top
            or rows[0] >= boxes.safe_area.bottom
        )


def safe_rows(plan: PagePlan) -> tuple[slice, slice]:
    """The part of the canvas between the sides of the safe area, where words may stand."""
    safe = plan.boxes.safe_area
    return slice(None), slice(safe.left, safe.right)


@pytest.mark.parametrize("preset", PAPER)
def test_can_be_read(preset: str) -> None:
    """At 300 dpi capitals are at least 1 mm high on an ordinary page (our choice: about what is
    printed in small notes).
    """
    plan = laid_out(preset, PAGES["grid"], False, 300)
    (height,) = {text.height for text in label(plan)}
    assert height / 300 * 25.4 >= 1


def test_long_words_at_a_high_resolution() -> None:
    """At 6,000 dpi, a canvas of 41,250 × 63,000 pixels, long words are drawn, whole and inside."""
    plan = laid_out("us-comic", {"panels": "splash", "note": "Größe – word " * 19}, False, 6_000)
    drawn = layers(plan)["Page label"].coverage(plan.boxes.canvas)
    assert plan.boxes.canvas.size == (41_250, 63_000)
    assert plan.boxes.canvas.holds(drawn.box)
    assert (drawn.values > 0).any()


def test_scroll() -> None:
    """On a scroll the label stands between two panels, on no line where a screen ends."""
    items = [{"height": "1.5 screens", "full": True}, {"height": "400 px", "gap": "scene"}]
    plan = page({"scroll": items}, preset="vertical-scroll", guides=EVERY_LINE)
    label = inked(plan, "Page label")
    assert label.any()
    assert not (label & art(plan)).any()
    assert not (label & inked(plan, "Screen marks")).any()


def test_nothing_but_one_picture() -> None:
    """Where a picture takes a whole scroll the label stands at its top, beside its number."""
    plan = page({"scroll": [{"height": "900 px", "full": True}]}, preset="vertical-scroll")
    label, number = inked(plan, "Page label"), inked(plan, "Panel numbers")
    assert label.any()
    assert not (label & number).any()


def test_words() -> None:
    """It says title, number, page, side, preset and note, each in its own direction."""
    plan = page({"panels": "splash", "note": "שלום"}, title="Tests", number=3)
    assert page_words(plan) == ("Tests 3", "page 1", "right", "US comic book", "שלום")
    words = [text.text for text in label(plan)]
    assert words == ["Tests 3", "·", "page 1", "·", "right", "·", "US comic book", "·", "שלום"]
    lefts = [text.x for text in label(plan)]
    assert lefts == sorted(lefts)


def test_long_words_are_made_smaller() -> None:
    """A long note makes the letters smaller, so that nothing of the label is cut."""
    plan = page({"panels": "splash", "note": "many words " * 20})
    safe, canvas = plan.boxes.safe_area, plan.boxes.canvas
    columns = np.flatnonzero(inked(plan, "Page label").any(axis=0))
    assert columns[0] >= safe.left
    assert columns[-1] < safe.right
    shapes = layers(plan)["Page label"].shapes
    beyond = Box(canvas.left, canvas.top, 9 * canvas.right, canvas.bottom)
    assert plane(cover(shapes, beyond), beyond)[:, canvas.right :].sum() == 0
