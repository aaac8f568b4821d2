"""Text files with other values in them: what was not meant to change stays as it was."""

import re
import tomllib
from collections import Counter
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.toml_texts import FILES, NAMES, TABLES, VALUES, spelled_at_random

from guidekit.errors import InputError
from guidekit.toml.rearrange import rearranged
from guidekit.toml.rewrite import rewritten, same
from guidekit.toml.spell import spelled


@st.composite
def texts(draw: st.DrawFn) -> str:
    """A random file in a random spelling."""
    return draw(spelled_at_random(draw(FILES)))


def comments(text: str) -> list[str]:
    """The comments on lines of their own."""
    return [line.strip() for line in text.splitlines() if re.match(r"\s*# (aside|far|set)", line)]


@st.composite
def changes(draw: st.DrawFn, values: dict[str, Any]) -> dict[str, Any]:
    """The same values but for one that is new, gone or another, anywhere in them."""
    values = deepcopy(values)
    here: Any = values
    while True:
        ways = [*here] if isinstance(here, dict) else [*range(len(here))]
        inner = [way for way in ways if isinstance(here[way], (dict, list))]
        if not inner or (here is not values and draw(st.booleans())):
            break
        here = here[draw(st.sampled_from(inner))]
    act = draw(st.sampled_from(["new", "other", "gone"])) if ways else "new"
    if act == "new" and isinstance(here, list):
        here.insert(draw(st.integers(0, len(here))), draw(VALUES))
    elif act == "new":
        here[draw(NAMES)] = draw(VALUES)
    elif act == "other":
        here[draw(st.sampled_from(ways))] = draw(VALUES)
    elif here is not values["pages"] or len(here) > 1:
        del here[draw(st.sampled_from(ways))]
    return values


@given(texts(), st.data())
def test_one_change_is_always_written(text: str, data: st.DataObject) -> None:
    """Whatever is put in, changed or taken out anywhere, the new file has just that."""
    meant = data.draw(changes(tomllib.loads(text)))
    assert same(tomllib.loads(rewritten(text, meant)), meant)


@given(texts(), FILES)
def test_values_after_are_those_meant(text: str, meant: dict[str, Any]) -> None:
    """Where all values are others at once, the new file has those, or the change is refused."""
    try:
        after = rewritten(text, meant)
    except InputError:
        return
    assert same(tomllib.loads(after), meant)
    assert not Counter(comments(after)) - Counter(comments(text))


@given(texts(), st.data())
def test_one_value_changes_its_own_bytes_alone(text: str, data: st.DataObject) -> None:
    """Where a value is replaced by another of one line, all other lines stay byte for byte."""
    values = tomllib.loads(text)
    page = data.draw(st.integers(0, len(values["pages"]) - 1))
    table = values["pages"][page]
    names = [name for name, value in table.items() if not isinstance(value, (dict, list))]
    if not names:
        return
    table[data.draw(st.sampled_from(names))] = 4711
    after = rewritten(text, values)
    place = after.index("4711")
    assert text.startswith(after[:place])
    assert text.endswith(after[place + 4 :])


@given(texts())
def test_the_same_values_give_the_same_bytes(text: str) -> None:
    """Nothing is written anew where nothing changes."""
    assert rewritten(text, tomllib.loads(text)) == text


@given(texts(), TABLES, st.data())
def test_a_page_that_comes_and_goes(text: str, table: dict[str, Any], data: st.DataObject) -> None:
    """A page put in at any place is there, the others stay as they are, comments and all."""
    values = tomllib.loads(text)
    place = data.draw(st.integers(0, len(values["pages"])))
    values["pages"].insert(place, table)
    after = rewritten(text, values)
    assert same(tomllib.loads(after), values)
    assert [x for x in text.split() if x not in after.split()] == []


@given(texts(), st.data())
def test_another_order(text: str, data: st.DataObject) -> None:
    """Pages in another order are those pages, and back in the old order they are the old file."""
    values = tomllib.loads(text)
    order = data.draw(st.permutations(range(len(values["pages"]))))
    after = rearranged(text, "pages", order)
    assert tomllib.loads(after)["pages"] == [values["pages"][i] for i in order]
    back = [order.index(i) for i in range(len(order))]
    assert rearranged(after, "pages", back).split() == text.split()


@given(texts(), st.data())
def test_fewer_and_more(text: str, data: st.DataObject) -> None:
    """Pages that are left out are gone, those named twice are there twice."""
    values = tomllib.loads(text)
    count = len(values["pages"])
    order = data.draw(st.lists(st.integers(0, count - 1), min_size=1, max_size=6))
    after = tomllib.loads(rearranged(text, "pages", order))
    assert same(after, {**values, "pages": [values["pages"][i] for i in order]})


@given(VALUES)
def test_spelled_values_are_read_back(value: Any) -> None:
    """A value that is written out is read as itself by tomllib, Python's own reader of TOML 1.0."""
    assert same(tomllib.loads(f"x = {spelled(value)}")["x"], value)


BOOK = """\
# A book.
title = "The Salt Road"   # its name

# the first page
[[pages]]          # page 1
panels = "splash"  # all of it
panel.1.bleed = "all"

# --- second act ---

[[pages]]
tiers = [
  2,               # two
  { widths = [1, 2] },
]
"""


def test_a_worked_example() -> None:
    """Another content takes the line and the comment of the one before it."""
    values = tomllib.loads(BOOK)
    values["pages"][0] = {"tiers": [2, 1], "panel": {"1": {"bleed": "all", "border": False}}}
    values["pages"][1]["tiers"] = [3, {"widths": [1, 3]}, 1]
    values["direction"] = "rtl"
    expected = (
        BOOK.replace('panels = "splash"', "tiers = [2, 1]")
        .replace('"all"\n', '"all"\npanel.1.border = false\n')
        .replace("  2, ", "  3, ")
        .replace("[1, 2] },", "[1, 3] },\n  1,")
        .replace("# its name\n", '# its name\ndirection = "rtl"\n')
    )
    assert rewritten(BOOK, values) == expected


def test_a_page_that_moves_takes_its_comments() -> None:
    """Comments right above a page go with it; those apart stay between the pages."""
    after = rearranged(BOOK, "pages", [1, 0])
    assert after.index("[[pages]]\ntiers") < after.index("second act") < after.index("the first")
    assert rearranged(after, "pages", [1, 0]) == BOOK


def test_tables_apart_from_their_page() -> None:
    """Tables of an entry that stand apart from it go with it; between others they are told."""
    text = "[[pages]]\na = 1\n[b]\n[pages.panel]\nc = 1\n[[pages]]\n"
    pages = tomllib.loads(rearranged(text, "pages", [1, 0]))["pages"]
    assert pages == [{}, {"a": 1, "panel": {"c": 1}}]
    values = {"a": {"b": {"x": 1}, "d": {}, "e": 1}, "c": {}}
    assert rewritten("[a.b]\nx = 1\n[c]\n[a.d]\n", values).startswith("[a]\ne = 1\n\n[a.b]\n")


LIST = """pages = [
  # the first
  { panels = "splash" },  # one
  { tiers = [2, 3] },     # two
  # the last
  { tiers = [1] }{comma}  # three
]
"""
NEW = {"panels": "six-grid"}


@pytest.mark.parametrize("comma", ["", ","])
@pytest.mark.parametrize("at", [0, 1, 2, 3])
def test_a_page_in_a_list_on_lines_gets_its_own(at: int, comma: str) -> None:
    """In a list with an entry a line a new one has a line too, and no line loses its comment."""
    text = LIST.replace("{comma}", comma)
    values = tomllib.loads(text)
    values["pages"][at:at] = [NEW, NEW]
    after = rewritten(text, values)
    line = '  { panels = "six-grid" }'
    lines = [x.replace(",", "").rstrip() for x in after.splitlines()]
    there = [x.replace(",", "").rstrip() for x in text.splitlines()]
    assert [x for x in lines if x != line] == there
    assert lines.index(line) == [1, 3, 4, 6][at]
    del values["pages"][at : at + 2]
    assert rewritten(after, values) == text
    assert rearranged(text, "pages", [0, 1, 2, 2]).count("\n  { tiers = [1] }") == 2


@pytest.mark.parametrize("comma", ["", ","])
@pytest.mark.parametrize("order", [[0, 2], [1, 2], [0, 1], [1], [2, 0]])
def test_a_page_taken_out_of_a_list_leaves_all_comments(order: list[int], comma: str) -> None:
    """No comment goes with an entry of a list, and those that stay keep their lines and their own.

    Only what is put in another place has the comment of that place.
    """
    text = LIST.replace("{comma}", comma)
    after = rearranged(text, "pages", order)
    assert [x for x in text.splitlines() if "#" in x and x.split("#")[1] not in after] == []
    if order == sorted(order):
        lines = [x.replace(",", "").split() for x in after.splitlines()]
        there = [x.replace(",", "").split() for x in text.splitlines() if "{" in x]
        assert all(there[i] in lines for i in order)
