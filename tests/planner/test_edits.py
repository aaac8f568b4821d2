"""Changes of an issue's text: just what was asked for, and nothing else."""

import re
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.planner import HEAD, book_of, changes_of_page, issues, pages_in

from guidekit.errors import InputError
from guidekit.planner.changes import PageChange, read_change
from guidekit.planner.desk import text_after
from guidekit.planner.shaping import page_after

#: An inset that lies over no panel in particular, and before which panel it is read.
WITHIN = 'insets = [{ within = "frame", width = "9 %", height = "9 %", at = ["1 in", "1 in"], '
WITHIN += "read_before = "


def made(text: str, **change: Any) -> str:
    """The text after one change."""
    return text_after(book_of(text), read_change(change))


def page(body: str) -> str:
    """An issue of one page."""
    return f"{HEAD}\n[[pages]]\n{body}"


def body(text: str) -> str:
    """What the only page of an issue says."""
    return text.partition("[[pages]]\n")[2]


@given(issues(), st.data())
def test_the_page_is_as_asked_and_the_rest_stays(text: str, data: st.DataObject) -> None:
    """After any change the page says what was meant, and all other pages are the same bytes."""
    book = book_of(text)
    number = data.draw(st.integers(0, len(book.pages) - 1))
    sheet = book.sheet(number)
    change = data.draw(changes_of_page(sheet, number))
    assert isinstance(change, PageChange)
    try:
        meant = page_after(sheet, change, book.unit)
        after = text_after(book, change)
    except InputError:
        return
    assert pages_in(after)[number] == meant
    others = [entry for i, entry in enumerate(pages_in(after)) if i != number]
    assert others == [entry for i, entry in enumerate(book.pages) if i != number]
    blocks, before = after.split("[[pages]]"), text.split("[[pages]]")
    changed = [i for i, pair in enumerate(zip(before, blocks, strict=True)) if pair[0] != pair[1]]
    assert set(changed) <= {number + 1}
    kept = re.findall(r"^# .*$", text, re.M)
    if change.do != "inset" and "insets" not in book.pages[number]:
        assert re.findall(r"^# .*$", after, re.M) == kept


@given(issues(), st.data())
def test_dividing_leaves_all_other_panels(text: str, data: st.DataObject) -> None:
    """A divided panel becomes so many; in pages of tiers and columns all others stay in place."""
    book = book_of(text)
    number = data.draw(st.integers(0, len(book.pages) - 1))
    sheet = book.sheet(number)
    panel = data.draw(st.sampled_from(sorted(sheet.boxes)))
    parts = data.draw(st.integers(2, 4))
    axis = data.draw(st.sampled_from(["across", "down"]))
    printed = sheet.printed[panel]
    try:
        after = made(text, do="divide", page=number, panel=printed, axis=axis, parts=parts)
    except InputError:
        assert re.search("triangles|A B B|slant|bend|arched", text)  # which are no boxes
        return
    boxes = {*book_of(after).sheet(number).boxes.values()}
    assert len(boxes) == len(sheet.boxes) + parts - 1
    assert {box for n, box in sheet.boxes.items() if n != panel} <= boxes


@given(issues(), st.data())
def test_dividing_and_joining_again(text: str, data: st.DataObject) -> None:
    """Two halves of a panel joined again are that panel."""
    book = book_of(text)
    number = data.draw(st.integers(0, len(book.pages) - 1))
    sheet = book.sheet(number)
    panel = data.draw(st.sampled_from(sorted(sheet.printed.values())))
    axis = data.draw(st.sampled_from(["across", "down"]))
    if re.search("slant|bend|arched|A B B|triangles", text):
        return  # panels between gutters that lean are not joined
    divided = book_of(made(text, do="divide", page=number, panel=panel, axis=axis))
    old = {*sheet.boxes.values()}
    new = divided.sheet(number)
    halves = [new.printed[n] for n, box in new.boxes.items() if box not in old]
    joined = text_after(divided, read_change({"do": "join", "page": number, "panels": halves}))
    assert {*book_of(joined).sheet(number).boxes.values()} == old


@given(issues(), st.data())
def test_a_dragged_edge_lies_where_it_was_dropped(text: str, data: st.DataObject) -> None:
    """An edge comes to lie where it was dropped, to a tenth of a millimetre; others stay."""
    book = book_of(text)
    number = data.draw(st.integers(0, len(book.pages) - 1))
    sheet = book.sheet(number)
    if not sheet.handles:
        return
    edge = data.draw(st.integers(0, len(sheet.handles) - 1))
    handle = sheet.handles[edge]
    low, high = handle.limits
    to = data.draw(st.integers(low + 150, max(low + 150, high - 150)))
    try:
        after = book_of(made(text, do="drag", page=number, edge=edge, to=to)).sheet(number)
    except InputError:
        leans = "slant|bend|arched|triangles"  # such a gutter would take a whole panel
        assert re.search(leans, text)
        return
    dpi = book.rules.book.dpi
    if low + 150 < high - 150:
        assert abs(after.handles[edge].middle - to) <= dpi / 254 + 3
    for i, other in enumerate(sheet.handles):
        if other.path == handle.path and other.axis == handle.axis and i != edge:
            assert abs(after.handles[i].middle - other.middle) <= 2


def test_worked_examples() -> None:
    """What is written is what a person would have written."""
    for before, change, after in (
        ("tiers = [2, 1]\n", {"do": "divide", "panel": 3, "axis": "across"}, "tiers = [2, 2]\n"),
        (
            "tiers = [2, 1]\n",
            {"do": "divide", "panel": 3, "axis": "down"},
            "tiers = [2, { tiers = [1, 1] }]\n",
        ),
        (
            "tiers = [2, 1]\n",
            {"do": "divide", "panel": 1, "axis": "down"},
            "tiers = [{ columns = [2, 1] }, 1]\n",
        ),
        ('panels = "splash"\n', {"do": "divide", "panel": 1, "axis": "down"}, "tiers = [1, 1]\n"),
        (
            "tiers = [3, 1]\n",
            {"do": "join", "panels": [1, 2]},
            'tiers = [{ map = """\nA A B\n""" }, 1]\n',
        ),
        ("tiers = [2, 1]\n", {"do": "join", "panels": [1, 2]}, "tiers = [1, 1]\n"),
        ("tiers = [2, 2]\n", {"do": "join", "panels": [1, 3]}, 'map = """\nA B\nA C\n"""\n'),
        (
            "tiers = [1, 1]\npanel.2.border = false\n",
            {"do": "divide", "panel": 1, "axis": "across"},
            "tiers = [2, 1]\npanel.3.border = false\n",
        ),
        (
            'columns = [{ panels = 1, width = "2 in" }, 3]\n',
            {"do": "drag", "edge": 0, "to": 1775, "near": 40},
            'columns = [{ panels = 1, width = "2.5 in" }, 3]\n',
        ),
        (
            "tiers = [2, 1]  # why\n",
            {"do": "bleed", "panel": 3, "edge": "bottom", "on": True},
            'tiers = [2, 1]  # why\npanel.3.bleed = ["bottom"]\n',
        ),
        (
            f"tiers = [1, 2]\n{WITHIN}3 }}]\n",  # an inset between panel 1 and the next
            {"do": "divide", "panel": 1, "axis": "across"},
            f"tiers = [2, 2]\n{WITHIN}4 }}]\n",
        ),
        ("tiers = [2, 1]\n", {"do": "layout", "name": "six-grid"}, 'panels = "six-grid"\n'),
    ):
        found = made(page(before), page=0, **change)
        assert body(found) == after


def test_what_cannot_be_is_refused() -> None:
    """Panels that make no rectangle, edges that are not there and strange changes are refused."""
    text = page("tiers = [2, 1]\n")
    for change in (
        {"do": "join", "page": 0, "panels": [1, 3]},
        {"do": "drag", "page": 0, "edge": 9, "to": 5},
        {"do": "divide", "page": 0, "panel": 7, "axis": "down"},
        {"do": "divide", "page": 0, "panel": 1, "axis": "sideways"},
        {"do": "put", "page": 0, "key": [], "value": 1},
        {"do": "bleed", "page": 0, "panel": 1, "edge": "bottom", "on": True},
        {"do": "delete", "page": 0},
        {"do": "delete", "page": 3},
        {"do": "nothing"},
        "a text",
    ):
        with pytest.raises(InputError):
            text_after(book_of(text), read_change(change))


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ('count = "x"\ntiers = [2, 1]\n', "count"),
        ("panels = 3\npanel = 4\n", "panel"),
        ("tiers = [2, 1]\ninsets = 5\n", "insets"),
    ],
)
def test_a_page_that_cannot_be_read_is_not_shaped(wrong: str, said: str) -> None:
    """What is asked of a page in which something is wrong is refused with what is wrong in it."""
    book = book_of(f"{page(wrong)}\n[[pages]]\ntiers = [2, 1]\n")
    for change in (
        {"do": "apart", "page": 0, "nth": 0},
        {"do": "layout", "page": 0, "name": "six-grid"},
        {"do": "inset", "page": 0, "box": [300, 300, 900, 900]},
        {"do": "join", "page": 0, "panels": [1, 2]},
    ):
        with pytest.raises(InputError, match=rf"line \d, pages\[1\].{said}: "):
            text_after(book, read_change(change))
    assert len(book.sheet(1).boxes) == 3


@given(issues(), st.data())
def test_pages_come_go_and_move(text: str, data: st.DataObject) -> None:
    """Adding, copying, moving and deleting entries does just that to the list of pages."""
    book = book_of(text)
    pages = book.pages
    here = data.draw(st.integers(0, len(pages) - 1))
    to = data.draw(st.integers(0, len(pages) - 1))
    moved = [*pages]
    moved.insert(to, moved.pop(here))
    assert pages_in(made(text, do="move", page=here, to=to)) == moved
    copied = [*pages[: here + 1], pages[here], *pages[here + 1 :]]
    assert pages_in(made(text, do="add", behind=here, copy_it=True)) == copied
    added = pages_in(made(text, do="add", behind=here))
    assert added[: here + 1] + added[here + 2 :] == pages
    if len(pages) > 1:
        assert pages_in(made(text, do="delete", page=here)) == pages[:here] + pages[here + 1 :]
    count = pages[here].get("count", 1)
    parts = pages_in(made(text, do="apart", page=here, nth=count - 1))
    assert sum(entry.get("count", 1) for entry in parts) == sum(p.get("count", 1) for p in pages)


def test_a_kept_layout_takes_the_panels_of_its_page() -> None:
    """A page's panels kept under a name lie as they did."""
    text = page("tiers = [2, 1]\nheights = [1, 2]\npanel.3.border = false\n")
    after = made(text, do="keep", page=0, name="low window")
    assert book_of(after).sheet(0).boxes == book_of(text).sheet(0).boxes
    assert tomllib.loads(after)["layouts"]["low window"] == {"tiers": [2, 1], "heights": [1, 2]}


def test_a_page_that_differs_by_side_is_shaped_on_one() -> None:
    """What is changed on one side leaves the other as it was; what is said for both and would be
    taken out for one is refused.
    """
    text = page('count = 2\ntiers = [2, 1]\nnote = "A"\non_left = { tiers = [3, 1] }\n')
    for change, expected in (
        ({"do": "divide", "panel": 3, "axis": "across", "side": "right"}, ([2, 2], [3, 1])),
        ({"do": "divide", "panel": 4, "axis": "across", "side": "left"}, ([2, 1], [3, 2])),
        ({"do": "layout", "name": "splash", "side": "right"}, (None, [3, 1])),
    ):
        book = book_of(made(text, page=0, **change))
        sides = [book.sheet(0, side).values for side in ("right", "left")]
        assert tuple(values.get("tiers") for values in sides) == expected
        assert [values["note"] for values in sides] == ["A", "A"]
    with pytest.raises(InputError, match="alike"):
        made(text, do="put", page=0, side="left", key=["note"])
    both = made(text, do="put", page=0, side="left", key=["count"], value=4)
    assert pages_in(both)[0]["count"] == 4
