"""Streams put together from parts: Python's own zlib must read them (RFC 1950)."""

import zlib

from hypothesis import given
from hypothesis import strategies as st

from guidekit.writers.pixels.deflate import Packer, ZlibStream

rows = st.one_of(
    st.binary(max_size=300),
    st.builds(lambda byte, times: byte * times, st.binary(min_size=1, max_size=4),
              st.integers(1, 20_000)),
)  # fmt: skip
parts = st.lists(st.tuples(rows, st.integers(0, 70), st.booleans()), max_size=8)


@given(parts)
def test_any_parts(parts: list[tuple[bytes, int, bool]]) -> None:
    """Rows added plainly and rows added many times, in any order, all come back as they were."""
    stream, packer, wanted = ZlibStream(), Packer(), b""
    for row, times, plainly in parts:
        if plainly:
            stream.add(row)
        else:
            stream.add_repeated(packer.pack(row), times)
        wanted += row if plainly else row * times
    assert zlib.decompress(stream.finish()) == wanted


def test_check_value_of_many() -> None:
    """The Adler-32 holds where both of its sums have gone round many times (RFC 1950)."""
    row = bytes([255, 254, 253]) * 7_000
    stream = ZlibStream()
    stream.add_repeated(Packer().pack(row), 2_000)
    expand = zlib.decompressobj()
    data, size = stream.finish(), 0
    while data:
        size += len(expand.decompress(data, 1 << 20))
        data = expand.unconsumed_tail
    size += len(expand.flush())
    assert expand.eof  # false, or an error, with a wrong check value
    assert size == len(row) * 2_000


def test_repeated_rows_cost_little() -> None:
    """A row is compressed once: a thousand copies are its own few bytes, a thousand times."""
    row = Packer().pack(bytes(range(256)) * 40)
    stream = ZlibStream()
    stream.add_repeated(row, 1_000)
    assert len(stream.finish()) == 2 + 1_000 * len(row.deflated) + 2 + 4
