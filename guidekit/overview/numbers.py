"""The numbers of panels where the canvases have them, but larger, for small pictures."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.guides.numbers import panel_numbers
from guidekit.layers.palette import Pen, pen_for
from guidekit.raster.text import Text

LARGER = 3


def large_numbers(plan: PagePlan) -> Iterator[Text]:
    """A text for each panel that has room for one, in pixels of the canvas."""
    pen = Pen(pen_for(plan).short * LARGER)
    return (shape for shape in panel_numbers(GuideInput(plan, pen)) if isinstance(shape, Text))
