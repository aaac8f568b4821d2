"""Random input for the tests that state laws: presets, shares, pages of panels, boxes, shapes."""

from fractions import Fraction
from math import ceil, floor
from typing import Any

import numpy as np
from hypothesis import strategies as st

from guidekit.issue.share import Share
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


@st.composite
def letter_maps(draw: st.DrawFn) -> str:
    """A rectangle of places filled with rectangles of letters, with or without straight cuts."""
    rows, columns = draw(st.integers(1, 5)), draw(st.integers(1, 5))
    places = np.full((rows, columns), "")
    for letter in "ABCDEFGHIJKLMNOPQRSTUVWXY":
        if not (free := np.argwhere(places == "")).size:
            break
        y, x = free[0]
        taken = np.flatnonzero(places[y, x:] != "")
        width = draw(st.integers(1, taken[0] if taken.size else columns - x))
        places[y : y + draw(st.integers(1, rows - y)), x : x + width] = letter
    return "\n".join(" ".join(row) for row in places)


def _row_of_weights(number: int) -> st.SearchStrategy[list[float]]:
    return st.lists(st.sampled_from([1, 1.5, 2, 3]), min_size=number, max_size=number)


@st.composite
def _content(draw: st.DrawFn, key: str, depth: int, numbers: bool) -> dict[str, Any]:
    """What a part of a list called `key` holds; `numbers` says that it may be one number."""
    kinds = ["number"] * numbers + ["map"] + ["tiers", "columns"] * (depth > 0)
    kind = draw(st.sampled_from(kinds))
    across = key == "tiers"  # panels in a tier stand side by side
    if kind == "map":
        return {"map": draw(letter_maps())}
    if kind in ("tiers", "columns"):
        entry = _content(kind, depth - 1, True)
        part: dict[str, Any] = {kind: draw(st.lists(entry, min_size=1, max_size=3))}
        number, across = len(part[kind]), kind == "columns"
    else:
        number = draw(st.integers(1, 4))
        part = {"panels": number}
    if draw(st.booleans()):
        part["widths" if across else "heights"] = draw(_row_of_weights(number))
    return part


#: Pages of nested tiers, columns and letter maps, as an issue file would hold them.
pages = _content("", 2, False)


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
    corners = middle + np.array(reach)[:, None] * np.stack([np.cos(angles), np.sin(angles)], 1)
    return corners if draw(st.booleans()) else corners[::-1]
