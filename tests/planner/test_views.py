"""What the browser is told of the book and its pages: true to what the canvases have."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.planner import HEAD, book_of, issues
from support.reference import reference

from guidekit.errors import InputError
from guidekit.planner.book_view import book_data
from guidekit.planner.changes import read_change
from guidekit.planner.desk import Desk, text_after
from guidekit.planner.format_view import format_data
from guidekit.planner.page_view import page_data
from guidekit.shipped import shipped
from guidekit.studio.catalogue import studio
from guidekit.studio.locking import lock_issue

BOOK = f"""{HEAD}
binding = {{ kind = "perfect", caliper = "0.1 mm" }}
cover = {{ wrap = true, barcode = true }}
folios = {{ place = "outside" }}

[[pages]]
section = {{ title = "Front", numbers = "roman" }}
count = 3
panels = "splash"

[[pages]]
section = {{ title = "The stairs", numbers = "arabic", start = 1 }}
reveal = true
tiers = [2, 1]

[[pages]]
kind = "ad"
"""

#: Insets that are measured in an area of the page, or have a shape of their own.
INSETS = (
    '{ within = "frame", width = "40 %", height = "20 %", at = ["10 %", "30 %"] }',
    '{ within = "trim", width = "2 in", height = "1 in", at = ["2 in", "2 in"], tilt = "12 deg" }',
    '{ within = "frame", points = [["50 %", "50 %"], ["90 %", "55 %"], ["80 %", "90 %"]] }',
    '{ over = 1, width = "50 %", height = "50 %", at = ["1 in", "1 in"], ellipse = true }',
)


def test_the_book_has_its_cover_sections_numbers_and_turns(tmp_path: Path) -> None:
    """Even pages are seen behind a turn, as page 1 lies on the right (CSS Paged Media 3, page
    progression); printed numbers go by section; the cover has its folds and its barcode.
    """
    path = tmp_path / "book.toml"
    path.write_text(BOOK, "utf-8")
    data = book_data(Desk(path, shipped()))
    told = [
        {key: page.get(key) for key in ("printed", "section", "turns")} for page in data["pages"]
    ]
    assert told == [
        {"printed": "i", "section": "Front", "turns": True},
        {"printed": "ii", "section": None, "turns": None},
        {"printed": "iii", "section": None, "turns": True},
        {"printed": "1", "section": "The stairs", "turns": None},
        {"printed": None, "section": None, "turns": None},
    ]
    assert (data["pages"][3]["reveal"], data["pages"][4]["kind"]) == (True, "ad")
    (cover,) = data["covers"]
    left, _, right, _ = cover["trim"]
    spine = cover["folds"][1] - cover["folds"][0]
    assert len(cover["folds"]) == 2
    assert abs(sum(cover["folds"]) - left - right) <= 1
    assert spine == round(3 * 0.1 / 25.4 * 600)  # three leaves of paper, common practice, no source
    assert cover["barcode"]


@given(issues(), st.data())
def test_each_number_stands_in_what_is_seen_of_its_panel(text: str, data: st.DataObject) -> None:
    """The number of a panel stands inside it, and not in what others take from it (Shapely)."""
    shapely = reference("shapely")
    book = book_of(text)
    page = page_data(book, data.draw(st.integers(0, len(book.pages) - 1)))
    for panel in page["panels"]:
        pairs = [*zip(panel["points"][::2], panel["points"][1::2], strict=True)]
        shape = shapely.Polygon(pairs)
        place = shapely.Point(panel["at"][0] + 5, panel["at"][1] + 5)
        assert shape.buffer(1).contains(place)
        rings = [shapely.Polygon([*zip(r[::2], r[1::2], strict=True)]) for r in panel["seen"]]
        outer = max(rings, key=lambda ring: ring.area, default=None)
        for hole in rings if outer else ():
            assert hole is outer or not hole.buffer(-1).contains(place)


@pytest.mark.parametrize("inset", INSETS)
def test_insets_of_any_kind_are_moved(inset: str) -> None:
    """An inset that is dragged comes to lie where it was dropped, in the shape and size it had."""
    text = f"{HEAD}\n[[pages]]\ntiers = [1, 2]\ninsets = [{inset}]\n"
    before = book_of(text)
    (old,) = (panel for panel in page_data(before, 0)["panels"] if panel["inset"] == 0)
    box = [x + (240, 330, 240, 330)[i] for i, x in enumerate(old["box"])]
    change = read_change({"do": "inset", "page": 0, "inset": 0, "box": box})
    after = book_of(text_after(before, change))
    (new,) = (panel for panel in page_data(after, 0)["panels"] if panel["inset"] == 0)
    assert (
        max(abs(a - b) for a, b in zip(new["box"], box, strict=True)) <= 20
    )  # two steps of 1/64 in
    assert len(new["points"]) == len(old["points"])


@pytest.mark.parametrize(
    ("page", "over"),
    [
        ("tiers = [2, 1]", 2),
        ('tiers = [{ panels = 2, slant = "-21 deg" }, 1]', 2),
        ('tiers = [{ panels = 2, slant = "21 deg" }, 1]', [1, 2]),
        ('tiers = [{ panels = 2, bend = "-9 %" }, 1]', 2),
    ],
)
def test_an_inset_lies_where_its_box_was_drawn(page: str, over: int | list[int]) -> None:
    """Whether gutters are straight or not, over the panels that are really there, and it stays
    there when it is taken hold of and put down again.
    """
    book, box = book_of(f"{HEAD}\n[[pages]]\n{page}\n"), [2200, 300, 2900, 800]
    for held in ({}, {"inset": 0}):
        change = read_change({"do": "inset", "page": 0, "box": box, **held})
        book = book_of(text_after(book, change))
        (laid,) = (panel for panel in page_data(book, 0)["panels"] if panel["inset"] == 0)
        assert max(abs(a - b) for a, b in zip(laid["box"], box, strict=True)) <= 20  # as above
        assert book.pages[0]["insets"][0]["over"] == over


def test_a_page_is_left_blank_and_drawn_again() -> None:
    """A page that is left blank has no panels; one of the story has some again."""
    text = f"{HEAD}\n[[pages]]\nnote = 'A note'\ntiers = [2, 1]\npanel.1.border = false\n"
    for value, expected in (("blank", {"kind": "blank"}), (None, {"panels": "splash"})):
        change = read_change({"do": "put", "page": 0, "key": ["kind"], "value": value})
        text = text_after(book_of(text), change)
        assert book_of(text).pages == [{"note": "A note", **expected}]
    assert len(book_of(text).sheet(0).boxes) == 1


def test_values_are_compared_with_the_locked_format(tmp_path: Path) -> None:
    """What the issue changes is told in words beside the format, and what has moved on since."""
    near, path = tmp_path / "stairs.toml", tmp_path / "book.toml"
    format_ = 'based_on = "us-comic"\ntitle = "Stairs"\ngutter = "4 mm"\n'
    near.write_text(format_, "utf-8")
    own = f"{HEAD.replace('us-comic', 'stairs')}format = {{ dpi = 300 }}\n"
    path.write_text(f"{own}\n[[pages]]\ntiers = [2, 1]\n", "utf-8")

    def asked() -> dict[str, Any]:
        found = studio(path)
        return format_data(Desk(path, found.catalogue).book, found)

    assert (asked()["differs"], asked()["moved_on"]) == (["dpi 600 → 300"], None)
    lock_issue(path)
    assert asked()["moved_on"] == []
    near.write_text(format_.replace("4 mm", "5 mm"), "utf-8")
    assert any("4 mm → 5 mm" in told for told in asked()["moved_on"])


def test_a_corner_is_not_dragged_out_of() -> None:
    """An inset in a corner of an area keeps it, and that is told."""
    inset = '{ within = "trim", width = "2 in", height = "2 in", corner = "top-left" }'
    book = book_of(f"{HEAD}\n[[pages]]\ntiers = [1, 2]\ninsets = [{inset}]\n")
    change = read_change({"do": "inset", "page": 0, "inset": 0, "box": (900, 900, 1500, 1500)})
    with pytest.raises(InputError, match="corner"):
        text_after(book, change)
