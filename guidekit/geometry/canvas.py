"""What is found out about one canvas before it is put together with all that its issue shares."""

from __future__ import annotations

from typing import NamedTuple

from guidekit.geometry.division.arrange import Division
from guidekit.geometry.page import Panel
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline


class Canvas(NamedTuple):
    """A canvas with its panels; see `guidekit.geometry.page.PagePlan`."""

    boxes: PageBoxes
    frames: tuple[Box, ...]
    panels: tuple[Panel, ...]
    divisions: tuple[Division, ...]
    screens: tuple[int, ...] = ()
    empty: tuple[Outline, ...] = ()
