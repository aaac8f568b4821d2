"""A small stack with everything a writer may meet, and random ones for properties."""

from typing import Any

from hypothesis import strategies as st

from guidekit.layers.model import Group, Layer, Stack
from guidekit.plane.box import Box
from guidekit.raster.shapes import Polygon, Rule

CANVAS = Box(0, 0, 301, 203)
SHEET = Rule(CANVAS)
RING = Polygon(((40, 20), (220.5, 33), (190, 160.25), (55, 171)))  # slanted: every coverage

INKS = Layer("Inks")

#: The uppermost first; with names in several scripts, nested groups, a mask, hidden and locked.
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


def sample(**changes: Any) -> Stack:
    """The stack, with some of its fields changed."""
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


colours = st.tuples(*[st.integers(0, 255)] * 3)


@st.composite
def stacks(draw: st.DrawFn) -> Stack:
    """Canvases of any shape up to 150 pixels, with a few boxes and triangles on them."""
    width, height = draw(st.integers(1, 150)), draw(st.integers(1, 150))
    corner = st.integers(0, width - 1), st.integers(0, height - 1)
    edge = st.floats(0.5, 80)
    boxes = st.builds(
        lambda x, y, w, h: Rule(Box(x, y, x + w, y + h)),
        *corner, st.integers(1, width), st.integers(1, height),
    )  # fmt: skip
    triangles = st.builds(  # none of them a mere line, or beside the canvas
        lambda x, y, w, h: Polygon(((x + 0.1, y + 0.1), (x + w, y + 0.3), (x + 0.2, y + h))),
        *corner, edge, edge,
    )  # fmt: skip
    shapes = st.one_of(boxes, triangles)
    layers = st.builds(
        Layer,
        st.just("layer"),
        st.lists(shapes, max_size=3).map(tuple),
        colours,
        st.integers(0, 255),
        blend=st.sampled_from(["normal", "multiply"]),
    )
    return sample(
        canvas=Box(0, 0, width, height),
        members=tuple(draw(st.lists(layers, max_size=4))),
        paper=draw(colours),
        grey=draw(st.booleans()),
        depth=draw(st.sampled_from([8, 16])),
    )
