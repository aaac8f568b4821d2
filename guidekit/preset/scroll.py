"""What a vertical scroll has in place of a trim."""

from __future__ import annotations

from typing import ClassVar

from guidekit.toml.model import Model, NonNegativeLength


class Beats(Model):
    """Gaps of a vertical scroll: within a beat, between two, and before another scene."""

    example: ClassVar = {"close": "200 px", "normal": "600 px", "scene": "1200 px"}

    close: NonNegativeLength
    normal: NonNegativeLength
    scene: NonNegativeLength


class Scroll(Model):
    """What a vertical-scroll episode needs in place of a trim; lengths at drawing size.

    `canvas_height` is the most one canvas may have, `screen` the height of one delivered slice
    as drawn, `delivery_width` the width at which readers receive it, `gaps` what lies between
    panels.
    """

    example: ClassVar = {
        "width": "1600 px",
        "canvas_height": "25600 px",
        "screen": "2560 px",
        "delivery_width": "800 px",
        "gaps": Beats.example,
    }
    renamed: ClassVar = {"part": "canvas_height"}

    width: NonNegativeLength
    canvas_height: NonNegativeLength
    screen: NonNegativeLength
    delivery_width: NonNegativeLength
    gaps: Beats
