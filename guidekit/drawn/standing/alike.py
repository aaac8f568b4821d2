"""Whether a drawing can be of a page, by its panels."""

from __future__ import annotations

from typing import Any

from guidekit.geometry.page import PagePlan

NEAR = 0.1  # of the trim: gutters and margins change, arrangements do not so little


def likely(was: dict[str, Any], plan: PagePlan) -> bool:
    """True if the page has as many panels, and all of their middles nearly where they were."""
    old = [_middle(panel["box"], was["trim"]) for panel in was.get("panels", []) if "box" in panel]
    trim = plan.boxes.trim.as_list()
    new = [_middle(panel.box.as_list(), trim) for panel in plan.panels]
    return len(old) == len(new) and all(
        abs(a - b) < NEAR
        for one, other in zip(old, new, strict=True)
        for a, b in zip(one, other, strict=True)
    )


def _middle(box: list[int], trim: list[int]) -> tuple[float, float]:
    """The middle of a box in parts of the trim."""
    x, y = ((box[i] + box[i + 2]) / 2 - trim[i] for i in (0, 1))
    return x / max(1, trim[2] - trim[0]), y / max(1, trim[3] - trim[1])
