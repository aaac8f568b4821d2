"""Every guide can be switched by preset, issue and page: shown, hidden or off."""

from itertools import product
from typing import Any

import pytest
from support.catalogue import GUIDES, stack_of
from support.laid_out_pages import issue, members, page, plans, refusal
from support.long import shortened

from guidekit.layers.model import Group, all_layers
from guidekit.preset.guides import STATES
from guidekit.registry import Named

LAYERS = [name for name in GUIDES if name != "ruler_guides"]  # those are no layer
#: A spread in which every guide but those of screens has something to show.
ALL: dict[str, Any] = {
    "tiers": [{"panels": 3, "slant": "4 deg"}, 2],
    "spread": True,
    "perspective": {"horizon": "40 %", "points": ["20 %"]},
}
FULL = {"square_grid": "50 px", "fold_strip": "20 px"}
SPLASH: dict[str, Any] = {"panels": "splash"}
PLACES = ("preset", "issue", "page")  # where a guide is switched
BOUND = {"kind": "perfect", "caliper": "1 mm"}
COVER = {"spine", "barcode"}  # guides of covers alone
SCROLL: dict[str, Any] = {"scroll": [{"height": "1 screen"}, {"height": "1 screen"}]}


def guides(name: str, **switches: Any) -> dict[str, Any]:
    """The guide layers of a page that has this guide to show; `switches` are of three places."""
    scroll = name == "screen_marks"
    preset, form = ("vertical-scroll", {}) if scroll else ("us-comic", FULL)
    *before, last = [SCROLL] if scroll else [SPLASH, ALL]
    tables = {place: {name: state} for place, state in switches.items()}
    cover: dict[str, Any] = {}
    if name in COVER:
        cover = {"binding": BOUND, "cover": {"barcode": True, "guides": tables.get("page", {})}}
    text = issue(
        *before,
        last | {"guides": tables.get("page", {})},
        preset=preset,
        format={**form, "guides": tables.get("preset", {})},
        guides=tables.get("issue", {}),
        **cover,
    )
    plan = plans(text)[-1]
    return members(plan)


def test_the_table_is_in_order() -> None:
    """The rows of the table stand as the guides lie, and no two share a name, layer or place."""
    places = [guide.place for guide in GUIDES.values()]
    assert places == sorted(set(places))
    for column in ("name", "layer"):
        assert len({getattr(guide, column) for guide in GUIDES.values()}) == len(places)


@pytest.mark.parametrize("name", GUIDES)
def test_rows_name_what_is_there(name: str) -> None:
    """Each row names a function that says what it draws."""
    drawn_by = GUIDES[name].draw
    assert isinstance(drawn_by, Named)
    assert drawn_by.found.__doc__


def test_layers_stand_in_the_order_of_the_list() -> None:
    """The guides of a page lie on each other in the order of the list, the first uppermost."""
    everything = dict.fromkeys(LAYERS, "shown")
    plan = page(SPLASH, ALL | {"guides": everything}, format=FULL)
    expected = [GUIDES[name].layer for name in LAYERS if name not in {"screen_marks", *COVER}]
    top, *_ = stack_of(plan).members
    assert isinstance(top, Group)
    assert [guide.name for guide in top.members] == expected


@pytest.mark.parametrize("name", LAYERS)
@pytest.mark.parametrize(
    ("place", "state"), shortened(product(PLACES, STATES), {*zip(PLACES, STATES, strict=True)})
)
def test_switching(name: str, place: str, state: str) -> None:
    """A guide is shown, hidden or not there at all, wherever that is said."""
    layer = guides(name, **{place: state}).get(GUIDES[name].layer)
    assert (layer is None) == (state == "off")
    if layer:
        assert layer.visible == (state == "shown")
        assert layer.locked
        assert [*all_layers((layer,))]
        assert all(part.shapes and part.locked for part in all_layers((layer,)))


@pytest.mark.parametrize("name", LAYERS)
def test_without_a_word(name: str) -> None:
    """A guide that nobody switches is as the list has it."""
    layer = guides(name).get(GUIDES[name].layer)
    state = "off" if layer is None else "shown" if layer.visible else "hidden"
    assert state == GUIDES[name].state


@pytest.mark.parametrize(("preset", "issue_", "page_"), [*product((None, *STATES), repeat=3)])
def test_the_nearer_word_counts(preset: str | None, issue_: str | None, page_: str | None) -> None:
    """The page's word counts before the issue's, and the issue's before the preset's."""
    words = {"preset": preset, "issue": issue_, "page": page_}
    layer = guides("thirds", **{place: word for place, word in words.items() if word}).get("Thirds")
    state = "off" if layer is None else "shown" if layer.visible else "hidden"
    assert state == next((word for word in (page_, issue_, preset) if word), GUIDES["thirds"].state)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ({"thrids": "shown"}, 'thrids: there is no guide "thrids". Did you mean "thirds"?'),
        ({"thirds": "on"}, 'thirds: "on" is not "hidden", "off" or "shown".'),
        ({"thirds": True}, 'thirds: true is not "hidden", "off" or "shown". Write "shown".'),
    ],
)
@pytest.mark.parametrize("place", ["format", "issue", "page"])
def test_wrong_switches_are_refused(table: dict[str, Any], said: str, place: str) -> None:
    """An unknown guide or state is refused, with the place and what there is."""
    where = {"format": "format.guides", "issue": "guides", "page": "pages[2].guides"}
    keys: dict[str, Any] = {"guides": table} if place == "issue" else {}
    keys |= {"format": {"guides": table}} if place == "format" else {}
    text = refusal(SPLASH, SPLASH | ({"guides": table} if place == "page" else {}), **keys)
    assert text == f"{where[place]}.{said}"
