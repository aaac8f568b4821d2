"""Files on their way to the disk."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from guidekit.store.queue import SMALL, joined

sizes = st.lists(st.sampled_from([0, 1, 40, SMALL - 1, SMALL, SMALL + 1]), max_size=12)


@given(sizes)
def test_small_pieces_are_put_together(lengths: list[int]) -> None:
    """The bytes stay the same, no two small pieces are neighbours, large ones are not copied."""
    pieces = [bytes([number]) * length for number, length in enumerate(lengths)]
    found = joined(pieces)
    assert b"".join(found) == b"".join(pieces)
    small = [len(piece) < SMALL for piece in found]
    assert not any(one and other for one, other in pairwise(small))
    kept = {id(piece) for piece in found}
    assert all(id(piece) in kept for piece in pieces if len(piece) >= SMALL)
