"""Random input for the tests that state laws: presets, weights, boxes, polygons."""

from fractions import Fraction
from math import ceil, floor

import numpy as np
from hypothesis import strategies as st

from guidekit.issue.models.share import Share
from guidekit.plane.box import Box
from guidekit.preset import Preset

EDGES = ("top", "bottom", "inside", "outside")
DPI = st.sampled_from([72, 300, 350, 400, 600, 1200]) | st.integers(60, 1300)


@st.composite
def lengths(draw: st.DrawFn, low: int, high: int, dpi: int) -> str:
    """A length between two whole numbers of millimetres, written in one of five units."""
    units = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction("25.4")}
    units |= {"pt": units["in"] / 72, "px": units["in"] / dpi}
    unit = draw(st.sampled_from(sorted(units)))
    steps = draw(st.sampled_from([1, 8, 10, 16, 3])) if unit != "px" else 1
    step = units[unit] / steps
    number = Fraction(draw(st.integers(ceil(low / step), floor(high / step))), steps)
    return f"{number} {unit}"


@st.composite
def presets(draw: st.DrawFn, sheet: bool = False) -> Preset:
    """A page format of any size, with four different bleeds and safe margins."""
    dpi = draw(DPI)
    return Preset(
        title="Random",
        dpi=dpi,
        trim={"width": draw(lengths(75, 300, dpi)), "height": draw(lengths(75, 300, dpi))},
        sheet={"width": "400 mm", "height": "16.3 in"} if sheet else None,
        bleed={edge: draw(lengths(0, 12, dpi)) for edge in EDGES},
        safe_area={edge: draw(lengths(0, 20, dpi)) for edge in EDGES},
        gutter="3 mm",
        border="1 mm",
        drawing=["Inks"],
    )


#: The weights of parts: whole numbers, decimals and fractions that no decimal can write.
weights = st.lists(
    st.fractions(Fraction(1, 3), 4, max_denominator=7).map(lambda x: Share(weight=x)),
    min_size=1,
    max_size=9,
)


def boxes(canvas: Box, over: int = 0) -> st.SearchStrategy[Box]:
    """A box inside the canvas, or reaching up to `over` pixels beyond it."""
    x = st.integers(canvas.left - over, canvas.right + over)
    y = st.integers(canvas.top - over, canvas.bottom + over)
    return st.builds(lambda a, b, c, d: Box(min(a, c), min(b, d), max(a, c), max(b, d)), x, y, x, y)


@st.composite
def polygons(draw: st.DrawFn, low: float, high: float) -> np.ndarray:
    """A polygon without crossing edges: corners at growing angles round a middle."""
    number = draw(st.integers(3, 7))
    turns = draw(st.lists(st.floats(0.35, 1), min_size=number, max_size=number))
    angles = np.cumsum(turns) / sum(turns) * 2 * np.pi
    reach = draw(st.lists(st.floats(0.5, (high - low) / 2), min_size=number, max_size=number))
    middle = [draw(st.floats(low, high)), draw(st.floats(low, high))]
    corners: np.ndarray = middle + np.array(reach)[:, None] * np.stack(
        [np.cos(angles), np.sin(angles)], 1
    )
    return corners if draw(st.booleans()) else corners[::-1]
