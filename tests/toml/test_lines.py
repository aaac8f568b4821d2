"""Lines of keys: tomllib, given the file line by line, first finds each key where we say."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from guidekit.errors import Key
from guidekit.toml.lines import lines_of

TEXT = """\
title = "x"  # tomllib drops comments, and positions with them
format.gutter = { across = "1 mm", down = "2 mm" }

[layouts."a b"]
tiers = [
    2, # the first
    { widths = [1, 2],
      height = 3 },
]
about = \"""
of two lines\"""

[[pages]]
panels = 1
[pages.panel.3]
bleed = "all"
[[pages]]
tiers = [1]
[[pages.insets]]
over = 1
[[pages.insets]]
over = 2
"""

LINES = {
    ("title",): 1,
    ("format",): 2,
    ("format", "gutter", "down"): 2,
    ("layouts",): 4,
    ("layouts", "a b"): 4,
    ("layouts", "a b", "tiers"): 5,
    ("layouts", "a b", "tiers", 0): 6,
    ("layouts", "a b", "tiers", 1): 7,
    ("layouts", "a b", "tiers", 1, "widths", 1): 7,
    ("layouts", "a b", "about"): 10,
    ("pages",): 13,
    ("pages", 0): 13,
    ("pages", 0, "panel"): 15,
    ("pages", 0, "panel", "3", "bleed"): 16,
    ("pages", 1): 17,
    ("pages", 1, "insets"): 19,
    ("pages", 1, "insets", 1): 21,
    ("pages", 1, "insets", 1, "over"): 22,
}


@pytest.mark.parametrize(("key", "line"), LINES.items(), ids=str)
def test_a_line(key: Key, line: int) -> None:
    """A key is on the line where its name stands, an entry of a list where it begins."""
    assert lines_of(TEXT.encode(), [key])[key] == line


def test_nothing_that_is_not_there() -> None:
    """A key that is not in the file has no line; what it would stand in has."""
    wanted = [("pages", 2), ("pages", 0, "panels", "x"), ("none", 0), ("title", 0)]
    assert set(lines_of(TEXT.encode(), wanted)) == {
        ("pages",), ("pages", 0), ("pages", 0, "panels"), ("title",)
    }  # fmt: skip


NAMES = st.sampled_from(["a", "b", '"c d"', "'e.f'", "1"])
KEYS = st.lists(NAMES, min_size=1, max_size=3).map(" . ".join)
VALUES = st.recursive(
    st.sampled_from(["1", "2.5", '"#"', "'['", "true", "2001-01-01"]),
    lambda inside: (
        st.lists(inside, max_size=3).map(lambda x: f"[ {', '.join(x)} ]")
        | st.lists(st.tuples(KEYS, inside), max_size=3).map(
            lambda x: f"{{ {', '.join(f'{k} = {v}' for k, v in x)} }}"
        )
    ),
    max_leaves=6,
)
STATEMENTS = (
    st.tuples(KEYS, VALUES).map(lambda pair: f"{pair[0]} = {pair[1]} # x")
    | KEYS.map(lambda key: f"[ {key} ]")
    | KEYS.map(lambda key: f"[[{key}]]")
    | st.sampled_from(["", "# [a]"])
)


def read(lines: list[str]) -> dict[str, Any] | None:
    """What tomllib reads in these lines; None for no TOML."""
    try:
        return tomllib.loads("\n".join(lines))
    except tomllib.TOMLDecodeError:
        return None


def keys_in(values: Any, key: Key = ()) -> Iterator[Key]:
    """The keys of all that is in a value."""
    pairs = values.items() if isinstance(values, dict) else enumerate(values)
    for part, inside in pairs:
        yield (*key, part)
        if isinstance(inside, (dict, list)):
            yield from keys_in(inside, (*key, part))


@given(st.lists(STATEMENTS, max_size=12))
def test_lines_as_they_are_read(statements: list[str]) -> None:
    """Every key of a file is told on the line with which tomllib, reading on, first finds it."""
    lines: list[str] = []
    for statement in statements:  # those that make no sense behind the others are left out
        lines += [statement] if read([*lines, statement]) is not None else []
    first: dict[Key, int] = {}
    for number in range(1, len(lines) + 1):
        for key in keys_in(read(lines[:number])):
            first.setdefault(key, number)
    assume(first)
    assert lines_of("\n".join(lines).encode(), first) == first
