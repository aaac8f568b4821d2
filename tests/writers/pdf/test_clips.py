"""Shapes taken apart into fills and clips: the same area, by the geometry library shapely."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from support.reference import reference

from guidekit.plane.box import Box
from guidekit.plane.outline import points_of
from guidekit.plane.rings import united, without
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Shape, Solid
from guidekit.writers.paths import Ring, even_odd_rings
from guidekit.writers.pdf.clips import Filled, clipped, pieces

SMALL = 1e-6  # square pixels
places = st.integers(0, 12)
boxes = st.builds(
    lambda x, y, w, h: Rule(Box(x, y, x + w, y + h)),
    places,
    places,
    st.integers(1, 9),
    st.integers(1, 9),
)
points = st.tuples(places, places)
triangles = st.builds(Polygon, st.tuples(points, points, points))
plain = st.one_of(boxes, triangles)
solids = st.builds(
    lambda a, b, c: Solid(without(united((a.points, b.points)), (c.points,))),
    triangles,
    triangles,
    triangles,
)


def nested(inner: st.SearchStrategy) -> st.SearchStrategy:
    """Areas and clips of shapes."""
    some = st.lists(inner, min_size=1, max_size=3).map(tuple)
    return st.builds(Area, some, some) | st.builds(Clip, some, some)


shapes = st.lists(st.recursive(plain | solids, nested, max_leaves=6), min_size=1, max_size=2).map(
    tuple
)


def polygon(ring: Ring) -> Any:
    """A ring as shapely has it."""
    return reference("shapely").Polygon(points_of(ring))


def joined(parts: Any) -> Any:
    """What any of the parts covers; lines and points, where two only touch, are dropped."""
    shapely = reference("shapely")
    faces = [f for f in shapely.get_parts(shapely.get_parts(list(parts))) if f.area > 0]
    return shapely.union_all(faces)


def covered(shape: Any) -> Any:
    """What a shape covers, as the docstrings of the shapes say."""
    if isinstance(shape, Area):
        return joined([joined(map(covered, shape.shapes)) - joined(map(covered, shape.holes))])
    if isinstance(shape, Clip):
        return joined([joined(map(covered, shape.shapes)) & joined(map(covered, shape.within))])
    if isinstance(shape, Solid):
        return even_odd(shape.rings)
    return polygon(shape.box if isinstance(shape, Rule) else shape.points)


def even_odd(rings: tuple[Ring, ...]) -> Any:
    """What lies in an odd number of rings."""
    found = joined([])
    for ring in rings:
        found = joined([found ^ polygon(ring)])
    return found


def filled(piece: Filled) -> Any:
    """What a piece covers."""
    area = even_odd(piece.rings) if piece.even_odd else joined(map(polygon, piece.rings))
    for clip in piece.clips:
        rings = even_odd(clip.rings) if clip.even_odd else joined(map(polygon, clip.rings))
        area = joined([area & rings if clip.within else area - rings])
    return area


@given(shapes)
def test_pieces_cover_what_the_shapes_cover(given_shapes: tuple[Shape, ...]) -> None:
    """However areas and clips are nested, all pieces together cover the same area."""
    wanted = joined(map(covered, given_shapes))
    assert (joined(map(filled, pieces(given_shapes))) ^ wanted).area < SMALL


@given(shapes, shapes)
def test_clipped_pieces(given_shapes: tuple[Shape, ...], mask: tuple[Shape, ...]) -> None:
    """Pieces clipped to other shapes cover what both cover."""
    wanted = joined(map(covered, given_shapes)) & joined(map(covered, mask))
    parts = (part for piece in pieces(given_shapes) for part in clipped(piece, mask))
    assert (joined(map(filled, parts)) ^ wanted).area < SMALL


@given(st.lists(plain, min_size=1, max_size=3), st.lists(plain, min_size=1, max_size=3))
def test_even_odd_paths(outlines: list[Shape], holes: list[Shape]) -> None:
    """Where an area is held as one even-odd path, that path covers it."""
    area = Area(tuple(outlines), tuple(holes))
    if rings := even_odd_rings(area):
        assert (even_odd(rings) ^ covered(area)).area < SMALL


def test_even_odd_where_it_can_be() -> None:
    """Holes apart from each other inside an outline need no clip; a hole across its edge does."""
    frame, left, right = Rule(Box(0, 0, 20, 9)), Rule(Box(2, 2, 9, 7)), Rule(Box(11, 2, 18, 7))
    assert even_odd_rings(Area((frame,), (left, right)))
    assert not even_odd_rings(Area((left,), (frame,)))
    assert not even_odd_rings(Area((frame,), (left, Rule(Box(8, 2, 18, 7)))))
    dented = Polygon(((0, 0), (20, 0), (20, 9), (10, 3), (0, 9)))
    assert not even_odd_rings(Area((dented,), (Rule(Box(5, 2, 15, 4)),)))


def test_hole_in_what_is_clipped() -> None:
    """A frame clipped to a box inside its outline keeps its hole."""
    frame = Area((Rule(Box(0, 0, 9, 9)),), (Rule(Box(3, 3, 6, 6)),))
    clipped = (Clip((frame,), (Rule(Box(2, 2, 7, 7)),)),)
    assert joined(map(filled, pieces(clipped))).area == 25 - 9


def test_few_pieces() -> None:
    """Boxes that are cut out of different places make a piece each, not one for every choice."""
    holes = tuple(
        Area((Rule(Box(x, 0, x + 9, 9)),), (Rule(Box(x + 5, 5, x + 12, 12)),))
        for x in range(0, 200, 20)
    )
    assert len([*pieces((Area((Rule(Box(0, 0, 200, 20)),), holes),))]) == 1 + len(holes)
