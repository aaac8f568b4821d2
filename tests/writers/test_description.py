"""What a file says of itself in words: people read its beginning, programs find the data."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidekit.plugins.stacks import sample
from guidekit.writers.description import description, info_in

plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)
infos = st.dictionaries(st.text(min_size=1), plain, min_size=1, max_size=3)


@given(infos, st.text(max_size=30) | st.just("{" * 500))
def test_the_data_is_found(info: dict[str, Any], words: str) -> None:
    """Whatever the words before it are, the data comes back as it was."""
    assert info_in(description(sample(info=info, about=words))) == info


def test_people_first() -> None:
    """The first line is the sentence, the last the data, and one between says which is which."""
    text = description(sample(info={"a": 1}, about="Salt Road, page 4: a comic book."))
    assert text.splitlines() == [
        "Salt Road, page 4: a comic book.",
        "The rest is for programs:",
        '{"a":1}',
    ]
    assert description(sample(info={}, about="")) == ""
    assert description(sample(info={}, about="Words.")) == "Words."
    assert description(sample(info={"a": 1}, about="")) == '{"a":1}'


@pytest.mark.parametrize(
    "changed",
    [
        lambda text: text.replace("\n", " "),
        lambda text: text.replace("\n", "\r\n") + "\r\n",
        lambda text: f"  {text}  ",
        lambda text: text[text.index("{") :],
        lambda text: "Painted over. " + text,
        lambda text: text.replace('"page":', '"page" :\n '),
    ],
)
def test_changed_on_the_way(changed: Callable[[str], str]) -> None:
    """Programs that fold lines or put words before it do not hide the data."""
    info = {"page": {"box": [1, 2]}, "title": "A {brace} and a\nline"}
    text = description(sample(info=info, about="A {brace}, page 1."))
    assert info_in(changed(text)) == info


@pytest.mark.parametrize(
    "text",
    [
        "",
        "no data",
        "{",
        "}{",
        '{"a": 1',
        '{"a": 1} and more',
        "[1]",
        "{" * 1_000_000,
        '{"a":' * 100_000,
        "{}}" * 100_000,
    ],
    ids=lambda text: text[:12],
)
def test_nothing_to_find(text: str) -> None:
    """Where there is no data, or it is broken, None comes back, and soon."""
    assert info_in(text) is None


def test_the_order_of_keys() -> None:
    """The same data gives the same text, whatever order it came in (same input, same bytes)."""
    one, two = {"a": 1, "b": [2]}, {"b": [2], "a": 1}
    assert description(sample(info=one)) == description(sample(info=two))
    assert json.loads(description(sample(info=one))) == one
