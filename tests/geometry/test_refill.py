"""One page of a spread filled anew: ``on_left`` and ``on_right`` on a spread.

A spread's canvas is 1240 × 840 pixels with the fold at 620, as in `test_spread_halves`.
"""

from typing import Any

import pytest
from support.laid_out_pages import boxes, page, refusal

SPLASH = {"panels": "splash"}
directions = pytest.mark.parametrize("direction", ["ltr", "rtl"])
ACROSS: dict[str, Any] = {"tiers": [4, 2]}
ANEW: dict[str, Any] = {"tiers": [1, 3], "heights": [2, 1]}


def spread(direction: str = "ltr", **keys: Any) -> Any:
    """A spread on pages 2 and 3."""
    return page(SPLASH, {"spread": True} | keys, direction=direction)


@directions
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_other_page_stays(side: str, direction: str) -> None:
    """On this page lie the panels of such a half, on the other those of the spread, and no others.

    All of the earlier page is read first, in the order that either part has by itself.
    """
    whole = boxes(spread(direction, **ACROSS))
    halves = boxes(spread(direction, halves=[ANEW, ANEW]))
    found = spread(direction, **ACROSS, **{f"on_{side}": ANEW})

    def on_left(box: list[int]) -> bool:
        return box[2] <= 620

    anew = [box for box in halves if on_left(box) == (side == "left")]
    stays = [box for box in whole if on_left(box) != (side == "left")]
    first = (side == "left") == (direction == "ltr")
    assert boxes(found) == (anew + stays if first else stays + anew)
    assert [panel.number for panel in found.panels] == [*range(1, len(anew) + len(stays) + 1)]
    assert all(frame.right <= 620 or frame.left >= 620 for frame in found.frames)


def test_one_of_two_halves() -> None:
    """Of a spread with halves it is as if that half had been written so."""
    halves = [{"tiers": [2, 1]}, {"columns": [1, 2]}]
    anew = spread(halves=halves, on_right=ANEW)
    assert boxes(anew) == boxes(spread(halves=[halves[0], ANEW]))


def test_panels_keep_their_letters() -> None:
    """A letter of the spread's map that stays is one still; one that is gone is none any more."""
    keys: dict[str, Any] = {"map": "A B C D\nE E F F", "on_left": ANEW}
    found = spread(**keys, panel={"F": {"bleed": "right"}})
    assert [panel.number for panel in found.panels if panel.bleed] == [7]
    text = refusal(SPLASH, {"spread": True} | keys | {"panel": {"A": {"bleed": "left"}}})
    assert 'pages[2].panel.A: there is no panel "A" on the page. Write C, D or F.' in text


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"tiers": [1, 2], "on_left": ANEW}, "pages[2]: panel 1 runs across the fold, and one page "
         "alone is filled anew. Let a gutter of the spread lie there, or write halves."),
        ({**ACROSS, "on_left": ANEW | {"note": "x"}}, "pages[2].on_left.note: note holds for both "
         "pages of a spread. Write it beside on_left, or leave it out."),
        ({**ACROSS, "on_left": {"spread": True}}, "pages[2].on_left.spread: spread holds for left "
         "and right pages alike. Write it beside on_left, or leave it out."),
        ({**ACROSS, "on_right": {}}, "pages[2].on_right: no panels are on this page. Write one of "
         "panels, tiers, columns, map and triangles."),
        ({**ACROSS, "on_right": {"panels": "no-such"}}, "pages[2].on_right.panels: there is no "
         "layout"),
        ({"on_left": ANEW}, "pages[2]: no panels are on this page"),
    ],
)  # fmt: skip
def test_what_cannot_be(keys: dict[str, Any], said: str) -> None:
    """Panels across the fold, keys that both pages share, nothing to fill with: each by its key."""
    assert refusal(SPLASH, {"spread": True} | keys).removeprefix("pages 2 and 3, ").startswith(said)
