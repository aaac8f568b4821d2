"""What guides of plug-ins draw: rubbish is refused before it is drawn, all else can be drawn."""

import math
from collections.abc import Sequence
from typing import Any

import pytest

from guidekit.layers.guides.kind import Guide
from guidekit.plugins.contract import Area, Box, Clip, Group, Layer, Polygon, Rule, Stroke, Text
from guidekit.plugins.drawings import WrongError, check_drawn, check_guide
from guidekit.raster.shapes import cover

CANVAS = Box(0, 0, 300, 400)


def odd(value: Any) -> Any:
    """A value of a kind that type checkers do not let pass."""
    return value


BOX = Box(9, 9, 20, 20)
RULE = Rule(BOX)
NEST: Any = RULE
for _ in range(30):
    NEST = Area((NEST,), ())

WRONG: dict[str, Sequence[Any]] = {
    "half a pixel": [Rule(Box(odd(9.5), 9, 20, 20))],
    "a huge number": [Rule(Box(10**400, 9, 20, 20))],
    "true for a number": [Rule(Box(True, 9, 20, 20))],
    "a tuple for a box": [Rule(odd((9, 9, 20, 20)))],
    "no dashes": [Rule(BOX, (0, 0))],
    "dashes backward": [Rule(BOX, (3, -3))],
    "a stroke without its gap": [Rule(BOX, (3,))],
    "a list of dashes": [Rule(BOX, odd([3, 3]))],
    "too many dashes": [Rule(Box(0, 0, 9_000_000, 9_000_000), (1, 1))],
    "too many slanted dashes": [Stroke((5, 5), (9e6, 9e6), 3, (1, 1))],
    "no weight": [Stroke((5, 5), (50, 50), 0)],
    "a weight that is no number": [Stroke((5, 5), (50, 50), math.nan)],
    "a huge weight": [Stroke((5, 5), (50, 50), 1e308)],
    "points of three": [Stroke(odd((5, 5, 5)), (50, 50), 3)],
    "a corner that is nowhere": [Polygon(((0, 0), (9, 9), (0, math.inf)))],
    "a list of corners": [Polygon(odd([[0, 0], [9, 9], [0, 9]]))],
    "two corners": [Polygon(((0, 0), (9, 9)))],
    "a text of no height": [Text("x", 20, 20, 0)],
    "a text as high as a house": [Text("x", 20, 20, 10**9)],
    "half a letter": [Text("\ud800", 20, 20, 10)],
    "a letter that steers": [Text("\x1b", 20, 20, 10)],
    "a novel": [Text("x" * 1_000_000, 20, 20, 10)],
    "bytes": [Text(odd(b"x"), 20, 20, 10)],
    "an area of nothing": [Area((), ())],
    "a hole that is none": [Area((RULE,), (odd(None),))],
    "a list of shapes": [Clip(odd([RULE]), (RULE,))],
    "too deep": [NEST],
    "a group": [Group("x", (Layer("y", (RULE,)),))],
    "a layer in a layer": [Layer("x", odd((Layer("y"),)))],
    "a shape beside a layer": [Layer("x", (RULE,)), RULE],
    "a layer without a name": [Layer("", (RULE,))],
    "a layer with half a letter": [Layer("\ud800", (RULE,))],
    "a long name": [Layer("x" * 251, (RULE,))],
    "two colours": [Layer("x", (RULE,), odd((1, 2)))],
    "half a colour": [Layer("x", (RULE,), odd((1, 2, 3.5)))],
    "more than opaque": [Layer("x", (RULE,), opacity=256)],
    "another blend": [Layer("x", (RULE,), blend=odd("overlay"))],
    "another label": [Layer("x", (RULE,), label=odd("pink"))],
    "neither seen nor hidden": [Layer("x", (RULE,), visible=odd(None))],
    "a backdrop": [Layer("x", (RULE,), backdrop=True)],
    "no layers": [Layer("x", odd(None))],
    "too many layers": [Layer("x", (RULE,))] * 1_001,
}


@pytest.mark.parametrize("drawn", WRONG.values(), ids=WRONG)
def test_rubbish(drawn: Sequence[Any]) -> None:
    """Each is refused with what is wrong with it, in a line."""
    with pytest.raises(WrongError) as told:
        check_drawn(drawn, CANVAS)
    assert 5 < len(str(told.value)) < 200


@pytest.mark.parametrize(
    "shape",
    [
        Rule(Box(9, 9, 5, 5)),
        Rule(Box(-50, 9, 90_000, 20), (7, 5)),
        Stroke((5, 5), (5, 5), 3),
        Stroke((-5, 5.5), (900, 50), 0.1, (3, 2)),
        Polygon(((0, 0), (0, 0), (0, 0))),
        Polygon(((0, 0), (9, 9.5), (9, 0), (0, 9))),
        Text("", 20, 20, 10),
        Text("塩 ق", 20, 20, 10),
        Area((Area((RULE,), ()),), (Text("x", 1, 1, 5),)),
        Clip((RULE,), (Rule(Box(900, 900, 990, 990)),)),
    ],
)  # fmt: skip
def test_what_passes_can_be_drawn(shape: Any) -> None:
    """What is odd and yet sound passes, and is drawn within the canvas."""
    check_drawn([shape], CANVAS)
    check_drawn([Layer("x", (shape,))], CANVAS)
    assert CANVAS.holds(cover((shape,), CANVAS).box)


@pytest.mark.parametrize(
    "change",
    [
        {"state": "shown"},
        {"states": ("on",)},
        {"opacity": 101},
        {"place": "first"},
        {"layer": ""},
        {"colour": (1, 2)},
        {"label": "pink"},
    ],
)
def test_guides(change: dict[str, Any]) -> None:
    """A guide is off by itself, and what it says of its layer can be had."""
    values: dict[str, Any] = {"place": 145, "name": "x", "layer": "X", "state": "off"}
    values |= {"colour": None, "opacity": 100, "draw": lambda seen: []}
    check_guide(Guide(**values))
    with pytest.raises(WrongError):
        check_guide(Guide(**values | change))
