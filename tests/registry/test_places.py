"""Things from several places: which of one name counts, and what is said of two in one place."""

import pytest

from guidekit.errors import InputError
from guidekit.registry import Entry, Registry, stacked


def place(owner: str, *names: str) -> list[Entry[str]]:
    """A place with words, each of which says where it is from."""
    return [Entry.of(name, owner, f"{name} of {owner}") for name in names]


def registry(*places: list[Entry[str]]) -> Registry[str]:
    """All of them, the first place counting most."""
    return Registry("colour", lambda: stacked("colour", *places))


def test_the_first_place_counts() -> None:
    """A name stands for what the first place has, and tells what it shadows, all the way down."""
    found = registry(
        place("house", "umber"), place("guest", "ochre", "umber"), place("us", "umber")
    )
    assert [found.find("umber"), found.find("ochre")] == ["umber of house", "ochre of guest"]
    entry = found.entry("umber")
    assert entry.shadows
    assert entry.shadows.shadows
    assert [entry.shadows.owner, entry.shadows.shadows.owner] == ["guest", "us"]
    assert entry.shadows.shadows.shadows is None


def test_one_name_however_it_is_spelled() -> None:
    """Letter case and the two ways of Unicode to write é make no other name."""
    found = registry(place("house", "Cafe\u0301"), place("us", "caf\u00e9"))
    assert len(found) == 1
    assert found.find("CAF\u00c9").endswith("of house")


def test_two_in_one_place() -> None:
    """Two of one name in one place are refused with both owners, and only where they are wanted."""
    found = registry(place("a", "umber", "ochre") + place("b", "Umber"), place("us", "umber"))
    assert found.find("ochre") == "ochre of a"
    with pytest.raises(InputError, match=r'^there are two colours "umber", from a and from b\. '):
        found.find("umber")


def test_on_request() -> None:
    """A thing on request is there only for those who name it."""
    asked = Entry("ochre", "guest", lambda: "OCHRE", on_request=True)
    found = Registry("colour", lambda: [*place("us", "umber"), asked])
    assert [*found.wanted(())] == ["umber of us"]
    assert [*found.wanted({"ochre"})] == ["umber of us", "OCHRE"]
