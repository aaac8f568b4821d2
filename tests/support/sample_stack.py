"""Random small stacks, for properties of writers."""

from hypothesis import strategies as st

from guidekit.layers.model import Layer, Stack
from guidekit.plane.box import Box
from guidekit.plugins.stacks import sample
from guidekit.raster.shapes import Polygon, Rule

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
