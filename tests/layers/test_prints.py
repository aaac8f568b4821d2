"""Fingerprints of layers: told of what a layer covers, and not of how that is held."""

from typing import Any

import numpy as np
import pytest
from support.catalogue import stack_of
from support.laid_out_pages import page
from support.planes import plane

from guidekit.layers.model import all_layers
from guidekit.layers.prints import print_of, prints
from guidekit.plane.box import Box
from guidekit.raster.bands import Bands

EVERY = {"construction_lines": "shown", "diagonals": "shown", "thirds": "hidden", "legend": "shown"}
PAGES: dict[str, dict[str, Any]] = {
    "grid": {"tiers": [2, 3, 1]},
    "slanted": {"tiers": [{"panels": 2, "slant": "9 deg"}, 1], "radius": "12 px"},
    "inset": {
        "tiers": [1, 2],
        "insets": [{"over": 1, "width": "30 %", "height": "20 mm", "corner": "top-right"}],
    },
}


def pixel_by_pixel(pixels: np.ndarray) -> Bands:
    """A picture held the longest way: a band for each row, a run for each pixel."""
    height, width = pixels.shape
    return Bands(
        0,
        width,
        np.arange(height + 1),
        np.arange(height + 1) * width,
        np.tile(np.arange(width), height),
        pixels.ravel(),
    )


@pytest.mark.parametrize("keys", PAGES.values(), ids=PAGES)
def test_however_it_is_held(keys: dict[str, Any]) -> None:
    """The prints of a page are those of its layers pixel by pixel, as a file gives them back."""
    plan = page(keys, guides=EVERY)
    stack, canvas = stack_of(plan), plan.boxes.canvas
    told = {tuple(one["name"])[-1]: one for one in prints(stack)}
    drawn = [layer for layer in all_layers(stack.members) if layer.shapes]
    assert len(drawn) > 8
    for layer in drawn:
        found = print_of(pixel_by_pixel(plane(layer.coverage(canvas), canvas)))
        assert (found.box.as_list(), found.sha256) == (
            told[layer.name]["box"],
            told[layer.name]["sha256"],
        )


def test_nothing() -> None:
    """What covers nothing has an empty box and no digest, however large its canvas is."""
    assert print_of(pixel_by_pixel(np.zeros((3, 4), np.uint8))) == (Box(0, 0, 0, 0), "")
