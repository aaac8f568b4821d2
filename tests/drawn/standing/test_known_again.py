"""Pages that were put in another order by hand are known by their panels and the order of all."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidekit.drawn.info import Info
from guidekit.drawn.standing.known_again import known_again
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.measure import measured
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue.load import loaded
from guidekit.shipped import shipped
from guidekit.toml.file import toml_in

HEAD = 'title = "T"\npreset = "us-comic"\nformat.dpi = 30\n'
SCROLL = 'title = "T"\npreset = "vertical-scroll"\nformat.scroll.canvas_height = "6000 px"\n'
#: One letter an arrangement; S is a spread, which has two numbers.
TIERS = dict(zip("ABCDEFGHJKL", range(1, 12), strict=True))


def plans_of(letters: str) -> tuple[PagePlan, ...]:
    """The canvases of a book of these pages."""
    pages = [
        "[[pages]]\nspread = true\ntiers = [2, 1]\n"
        if letter == "S"
        else f"[[pages]]\ntiers = [{TIERS[letter]}, 2]\n"
        for letter in letters
    ]
    return plans(HEAD + "".join(pages))


def plans(text: str) -> tuple[PagePlan, ...]:
    """The canvases of an issue."""
    return plan_issue(loaded(toml_in(Path("t.toml"), text.encode()), shipped()))


def infos(canvases: tuple[PagePlan, ...]) -> dict[str, Info]:
    """What files say of their canvases."""
    return {plan.file_name: {"page": measured(plan)} for plan in canvases}


def gone(stood: dict[str, Info], now: tuple[PagePlan, ...]) -> dict[str, str | None]:
    """The names that canvases would have, without the beginning that all have."""
    found = known_again(stood, now, PlanDigests(), lambda canvas: False)
    return {old[3:]: plan.file_name[3:] if plan else None for old, plan in found.items()}


@pytest.mark.parametrize(
    ("old", "new", "drawn", "found"),
    [
        ("AABBC", "AABBC", "1 2 3 4 5", {}),
        ("ABCDEF", "ABLLCDEF", "3 4 5 6", {"003": "005", "004": "006", "005": "007", "006": "008"}),
        ("ABCDEF", "ABLLCDEF", "5", {"005": "007"}),
        ("ABCDEF", "ABCEF", "1 4 5 6", {"004": None, "005": "004", "006": "005"}),
        ("ABCDEF", "ABLDEF", "1 2 3 4 5 6", {}),  # page 3 has other panels now
        ("ABCDE", "BCAED", "1 4", {"001": "003", "004": "005"}),
        ("ABBBCD", "ABBBBCD", "1 2 3 4 5 6", {"005": "006", "006": "007"}),
        ("ABCDEF", "ABCD", "4 5 6", {"005": None, "006": None}),
        ("AAAA", "AAA", "4", {"004": "003"}),
        ("AAAA", "AAA", "2 4", {"004": "003"}),
        ("AAAA", "AAA", "1 2 3 4", {"004": None}),
        ("ASBCSD", "ASLLBCSD", "2 4 6", {"004": "006", "006-007": "008-009"}),
    ],
)
def test_another_order(old: str, new: str, drawn: str, found: dict[str, str | None]) -> None:
    """Those that stay are not named; of pages alike as many as can be stay."""
    stood = infos(plans_of(old))
    numbers = {int(number) for number in drawn.split()}
    some = {name: info for name, info in stood.items() if numbers & {*info["page"]["pages"]}}
    assert gone(some, plans_of(new)) == found


def test_blank_pages_alone() -> None:
    """Where nothing that is drawn on has gone, nothing has: a build makes blank pages anew."""
    stood, now = infos(plans_of("AAAA")), plans_of("AAA")
    last = [*stood][-1]
    assert known_again(stood, now, PlanDigests(), lambda canvas: canvas == last) == {}
    assert known_again(stood, now, PlanDigests(), lambda canvas: canvas != last) == {last: None}


@given(st.permutations("ABCDEF"), st.sets(st.integers(1, 6), min_size=1))
def test_any_order_of_pages_unlike(order: list[str], drawn: set[int]) -> None:
    """Where no two pages are alike each is known again, however many of them are drawn on."""
    stood = {n: i for n, i in infos(plans_of("ABCDEF")).items() if drawn & {*i["page"]["pages"]}}
    places = {number: order.index("ABCDEF"[number - 1]) + 1 for number in drawn}
    assert gone(stood, plans_of("".join(order))) == {
        f"{old:03}": f"{new:03}" for old, new in places.items() if old != new
    }


def test_parts_of_a_scroll() -> None:
    """A scroll goes with all its parts, and is known by how tall they are."""
    pages = [
        '[[pages]]\nscroll = [{ height = "1 screens" }, { height = "2 screens" }]\n',
        '[[pages]]\nscroll = [{ height = "2 screens" }]\n',
    ]
    old, new = (plans(SCROLL + "".join(some)) for some in (pages, pages[::-1]))
    assert gone(infos(old), new) == {"001-1": "002-1", "001-2": "002-2", "002": "001"}


@pytest.mark.parametrize("change", [{"part": None}, {"trim": [0, 0, 0, 0]}])
def test_a_file_that_somebody_tampered_with(change: Info) -> None:
    """A part that says nonsense of itself stops nothing; no file is taken for one it may not be."""
    now = plans(
        SCROLL + '[[pages]]\nscroll = [{ height = "1 screens" }, { height = "2 screens" }]\n'
    )
    stood = infos(now)
    first = next(iter(stood.values()))
    first["page"] |= change
    assert gone(stood, now) == {}
