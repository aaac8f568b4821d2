"""The numbers of panels are those printed on the page, for whoever reads them and changes them."""

from typing import Any

import pytest
from support.inset_pages import inset
from support.laid_out_pages import boxes, page, refusal

SIX = {"tiers": [2, 2, 2]}
PLAIN = boxes(page(SIX))


def on_page(layout: dict[str, Any]) -> list[int | str]:
    """The panels of `SIX` as they are numbered on a page, from 1 on, and its insets."""
    found = boxes(page(layout))
    return [PLAIN.index(box) + 1 if box in PLAIN else "inset" for box in found]


def border_less(layout: dict[str, Any]) -> list[int]:
    """The printed numbers of the panels that have no border."""
    return [panel.number for panel in page(layout).panels if panel.border is None]


@pytest.mark.parametrize("number", [1, 2, 4, 5, 6, 7])
def test_a_panel_is_changed_under_the_number_it_has(number: int) -> None:
    """With an inset read as number 3, panel.4 is the panel that has the number 4 on the page."""
    layout = SIX | {"insets": [inset(over=2)]}
    assert on_page(layout) == [1, 2, "inset", 3, 4, 5, 6]
    assert border_less(layout | {"panel": {str(number): {"border": False}}}) == [number]


@pytest.mark.parametrize(
    ("over", "order"),
    [
        ([2, 5], [1, 2, "i", 3, 4, "i", 5, 6]),
        ([5, 2], [1, 2, "i", 3, 4, "i", 5, 6]),
        ([1, 1, 4], [1, "i", "i", 2, "i", 3, 4, 5, 6]),
        ([6], [1, 2, 3, 4, 5, 6, "i"]),
        ([[1, 2], [5]], [1, 2, "i", 3, 4, "i", 5, 6]),
    ],
)
def test_insets_lie_over_the_numbers_on_the_page(over: list[Any], order: list[Any]) -> None:
    """Whatever the order in which insets are listed, each follows the number that it names."""
    # one after the other, each seen on the page that the ones before it make
    small = {"width": "30 px", "height": "30 px"}
    insets = [inset(over=x, at=[f"{45 * i} px", "9 px"], **small) for i, x in enumerate(over)]
    found = on_page(SIX | {"insets": insets})
    assert [x if isinstance(x, int) else "i" for x in found] == order
    plan = page(SIX | {"insets": insets})
    assert [panel.number for panel in plan.panels] == list(range(1, 7 + len(over)))
    for number in (below for below in over if isinstance(below, int)):
        assert plan.panels[number - 1].cut_out, "this is the panel that it lies over"


def test_letters_do_not_move() -> None:
    """A letter of a map means its panel whatever insets are read before it."""
    layout = {"map": "A B\nC D", "insets": [inset(over="A"), inset(over="C")]}
    plan = page(layout | {"panel": {"D": {"border": False}}})
    assert [panel.number for panel in plan.panels if panel.border is None] == [6]
    assert [panel.number for panel in plan.panels if panel.cut_out] == [1, 4]


def test_the_number_of_an_inset_is_no_panel() -> None:
    """An entry for the number of an inset is refused, and says where to write instead."""
    layout = SIX | {"insets": [inset(over=2)], "panel": {"3": {"border": False}}}
    text = refusal(layout)
    assert "panel.3: number 3 on the page is an inset, insets[1]. " in text
    assert "1 to 7, but for 3" in text
    text = refusal(SIX | {"insets": [inset(over=2), inset(over=[2, 3])]})
    assert "insets[2].over: number 3 on the page is an inset, insets[1]. " in text


def test_one_panel_by_number_and_by_letter() -> None:
    """Two entries that mean one panel are refused, and both are named."""
    text = refusal({"map": "A A\nB C", "panel": {"C": {"radius": "3 px"}, "3": {"border": False}}})
    assert "panel.C and panel.3 are the same panel" in text


def test_an_inset_makes_number_and_letter_one_panel() -> None:
    """What is one panel is told by the numbers on the page."""
    layout = {"map": "A A\nB C", "insets": [inset(over="B")]}
    entries = {"C": {"radius": "3 px"}, "4": {"border": False}}
    assert "panel.C and panel.4 are the same panel" in refusal(layout | {"panel": entries})
    entries["2"] = entries.pop("4")
    assert border_less(layout | {"panel": entries}) == [2]


def test_a_letter_of_two_maps_says_so() -> None:
    """A letter that stands for two panels is refused as such, with the numbers they have."""
    layout = {"tiers": [{"map": "A B"}, {"map": "A C"}], "insets": [inset(over=1, width="20 px")]}
    text = refusal(layout | {"panel": {"A": {"border": False}}})
    assert 'panel.A: several panels have the letter "A", for the page has several maps. ' in text
    assert "one of the numbers 1 and 4." in text


def test_halves_of_a_spread_count_on() -> None:
    """The right half goes on with the numbers of the left one, insets included."""
    halves = [{"tiers": [2]}, {"tiers": [1, 1]}]
    layout = {"spread": True, "halves": halves, "insets": [inset(over=2), inset(over=4)]}
    plan = page({"panels": "splash"}, layout | {"panel": {"6": {"border": False}}})
    assert [panel.number for panel in plan.panels if panel.cut_out] == [2, 4]
    assert [panel.number for panel in plan.panels if panel.border is None] == [6]
    assert plan.panels[5].box.bottom == 780


READ = [
    ({"within": "frame"}, [1, 2, 3, 4, 5, 6, "i"]),
    ({"within": "frame", "read_after": 2}, [1, 2, "i", 3, 4, 5, 6]),
    ({"over": 5, "read_after": 1}, [1, "i", 2, 3, 4, 5, 6]),
    ({"over": 5, "read_before": 5}, [1, 2, 3, "i", 4, 5, 6]),
    ({"within": "trim", "read_before": 2}, ["i", 1, 2, 3, 4, 5, 6]),
]


@pytest.mark.parametrize(("keys", "order"), READ)
def test_a_place_in_the_reading_order(keys: dict[str, Any], order: list[Any]) -> None:
    """An inset is read where it says, by the numbers that the page then shows, or last."""
    laid = {"at": ["30 px", "30 px"], "width": "100 px", "height": "80 px"} | keys
    found = on_page(SIX | {"insets": [laid]})
    assert [x if isinstance(x, int) else "i" for x in found] == order
    if "read_before" in keys:
        assert found[keys["read_before"] - 2] == "inset"
    if "read_after" in keys:
        assert found[keys["read_after"]] == "inset"


@pytest.mark.parametrize("letter", ["A", "D"])
def test_read_before_a_letter(letter: str) -> None:
    """Before the panel of a letter an inset takes its number, and the letter stays."""
    laid = inset(over="C", read_before=letter)
    plan = page({"map": "A B\nC D", "insets": [laid], "panel": {letter: {"border": False}}})
    (named,) = [panel.number for panel in plan.panels if panel.border is None]
    assert plan.panels[named - 2].box.size == (100, 80)


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (
            {"read_before": 1},
            "insets[1].read_before: with an inset before it, the panel that has the number 1 has "
            "another one. Write 2: the number that the panel behind the inset has on the page.",
        ),
        (
            {"read_after": 9},
            'insets[1].read_after: there is no panel "9" on the page. Write a number from 1 to 6.',
        ),
        ({"read_after": 1, "read_before": 3}, "read_after and read_before are both here."),
    ],
)
def test_no_such_place_in_the_reading_order(keys: dict[str, Any], told: str) -> None:
    """A place in the reading order that there cannot be is told, with what can be written."""
    assert told in refusal(SIX | {"insets": [inset(**keys)]})
