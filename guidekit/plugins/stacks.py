"""Stacks with everything that a writer may meet, for tests of writers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from guidekit.layers.model import Group, Layer, Stack
from guidekit.plane.box import Box
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Stroke
from guidekit.raster.text import Text

CANVAS = Box(0, 0, 301, 203)
SHEET = Rule(CANVAS)
RING = Polygon(((40, 20), (220.5, 33), (190, 160.25), (55, 171)))  # slanted: every coverage

INKS = Layer("Inks")

#: The uppermost first; with names in several scripts, nested groups, a mask, hidden and locked.
#: Opacities are those of guides: 50, 60 and 30 percent of 255, half up.
MEMBERS = (
    Group(
        "案内 Guides",
        (
            Layer("文字の下書き線", (Rule(Box(10, 50, 290, 52)),), (0, 114, 178), opacity=128),
            Group(
                "خطوط",
                (
                    Layer("حدّ القص", (RING,), (213, 94, 0), locked=True),
                    Layer("hidden", (Rule(Box(3, 3, 9, 200)),), (0, 158, 115), visible=False),
                ),
                visible=False,
            ),
            Layer("🖋 & <\"'>", (Rule(Box(0, 0, 301, 3), dash=(7, 5)),), (230, 159, 0)),
        ),
        locked=True,
    ),
    Group("masked", (Layer("in mask", (SHEET,), (86, 180, 233)),), mask=(RING,)),
    Layer("shade", (RING,), (204, 121, 167), opacity=153, blend="multiply"),
    INKS,
    Layer("wash", (Rule(Box(150, 90, 301, 203)),), (240, 228, 66), blend="multiply"),
    Layer("paper", (SHEET,), (250, 248, 240), locked=True, backdrop=True),
)

#: One layer for each kind of shape.
EVERY_SHAPE = (
    Layer("text", (Text("Page 4", 20, 20, 30),)),
    Layer("stroke", (Stroke((5, 5), (290, 190.5), 3.0, (9, 4)),), (213, 94, 0)),
    Layer("area", (Area((SHEET,), (RING,)),), (0, 158, 115), opacity=77),
    Layer("clip", (Clip((SHEET,), (RING,)),), (0, 114, 178)),
    Layer("paper", (SHEET,), (255, 255, 255), locked=True, backdrop=True),
)

LONG = "ページ" * 83  # as long as the name of a layer may be


def sample(**changes: Any) -> Stack:
    """A small stack of `MEMBERS`, with some of its fields changed."""
    fields: dict[str, Any] = {
        "file_name": "sample",
        "canvas": CANVAS,
        "dpi": 350,
        "grey": False,
        "depth": 8,
        "paper": (250, 248, 240),
        "members": MEMBERS,
        "selected": INKS,
        "info": {"title": "塩の道 🖋", "page": {"dpi": 350}},
    }
    return Stack(**(fields | changes))


def every_stack() -> dict[str, Stack]:
    """What a writer has to take, by what is special about it."""
    empty = (Layer("Inks"), Group("空", (Layer("Pencils"),)), Layer(LONG))
    wide = Box(0, 0, 30_001, 3)
    stacks = {
        "groups, masks and names in any script": sample(),
        "16 bits": sample(depth=16),
        "grey": sample(grey=True),
        "grey of 16 bits": sample(grey=True, depth=16),
        "every shape": sample(members=EVERY_SHAPE, selected=None),
        "empty layers": sample(members=empty, selected=empty[0]),
        "no layers": sample(members=(), selected=None),
        "one pixel": sample(canvas=Box(0, 0, 1, 1)),
        "a very wide canvas": sample(canvas=wide),
        "a spread with rulers": sample(
            finished=CANVAS.inset(9), inked=CANVAS.inset(3), rulers=((9, 150, 292), (9, 194))
        ),
        "another file name": sample(file_name="塩の道-p004"),
    }
    return {name: replace(stack, title=name, about=f"{name}.") for name, stack in stacks.items()}
