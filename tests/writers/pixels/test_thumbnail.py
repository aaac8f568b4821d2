"""The small picture: the mean of exactly the area that each of its pixels stands for."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.planes import rgba
from support.sample_stack import stacks

from guidekit.layers.model import Stack, visible_inks
from guidekit.plugins.stacks import sample
from guidekit.raster.blend import flatten
from guidekit.writers.pixels.thumbnail import thumbnail, thumbnail_size


@pytest.mark.parametrize(
    ("width", "height", "wanted"),
    [
        (4125, 6300, (168, 256)),
        (6300, 4125, (256, 168)),
        (1600, 60_000, (7, 256)),
        (100, 60_000, (1, 256)),
        (256, 256, (256, 256)),
        (200, 31, (200, 31)),
    ],
)
def test_size(width: int, height: int, wanted: tuple[int, int]) -> None:
    """The longer edge is 256, the other in proportion, at least 1; small pictures stay small."""
    assert thumbnail_size(width, height, 256) == wanted


@given(stacks(), st.integers(1, 160))
def test_mean_of_area(stack: Stack, longest: int) -> None:
    """Enlarged by repeating pixels until the edges fall on whole pixels, then averaged by numpy."""
    picture = flatten(visible_inks(stack), stack.canvas, stack.paper)
    small = thumbnail([picture], longest)
    height, width, _ = small.shape
    full = rgba(picture, stack.canvas)[..., :3]
    across = np.repeat(full, width, axis=1).reshape(full.shape[0], width, -1, 3).sum(axis=2)
    total = np.repeat(across, height, axis=0).reshape(height, -1, width, 3).sum(axis=1)
    area = stack.canvas.width * stack.canvas.height
    assert (small == (2 * total + area) // (2 * area)).all()


def test_not_enlarged() -> None:
    """A picture that is small enough comes back pixel for pixel."""
    stack = sample()
    picture = flatten(visible_inks(stack), stack.canvas, stack.paper)
    assert (thumbnail([picture], 301) == rgba(picture, stack.canvas)[..., :3]).all()
