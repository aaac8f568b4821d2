"""Things found by name: with their owners, in order, late, and with what is said of wrong names."""

import pytest
from support.loading import printed

from guidekit.errors import ClashError, InputError
from guidekit.registry import Entry, Named, Registry


def registry(
    *names: str, owner: str = "us", otherwise: str = "", lister: str = ""
) -> Registry[str]:
    """A registry of words in capitals."""
    entries = [Entry.of(name, owner, name.upper()) for name in names]
    return Registry("colour", lambda: entries, otherwise, lister)


def refusal(of: Registry[str], name: str) -> str:
    """What is said of a name that is not there."""
    with pytest.raises(InputError) as caught:
        of.find(name)
    return str(caught.value)


def test_find() -> None:
    """A thing is found by its name."""
    assert registry("ochre", "umber").find("umber") == "UMBER"


def test_order() -> None:
    """Names and things come in the order in which they were added."""
    found = registry("umber", "ochre").adding(Entry.of("amber", "them", "AMBER"))
    assert [*found] == ["umber", "ochre", "amber"]
    assert [*found.things()] == ["UMBER", "OCHRE", "AMBER"]
    assert len(found) == 3
    assert "amber" in found
    assert "AMBER" not in found


def test_nearest_name() -> None:
    """An unknown name is refused with the nearest that there is."""
    assert refusal(registry("ochre", "umber"), "ocher") == (
        'there is no colour "ocher". Did you mean "ochre"?'
    )


def test_all_names() -> None:
    """An unknown name near none is refused with all of them, and with what else may be written."""
    found = registry("umber", "ochre", otherwise="six digits")
    assert refusal(found, "x") == 'there is no colour "x". Write ochre or umber, or six digits.'


def test_many_names() -> None:
    """Of very many names none is listed; the function that shows them is told."""
    many = registry(*map(str, range(100)), lister="hang_up")
    assert refusal(many, "x") == 'there is no colour "x". `hang_up()` shows all colours.'
    assert refusal(registry(*map(str, range(100))), "x") == (
        'there is no colour "x". Write the name of a colour.'
    )


def test_where_the_name_stands() -> None:
    """A refusal says by which key or argument the name came."""
    with pytest.raises(InputError) as caught:
        registry("ochre").find("x", key=("pages", 0, "ink"))
    assert caught.value.problems[0].key == ("pages", 0, "ink")
    with pytest.raises(InputError, match=r'^inks: there is no colour "x"'):
        registry("ochre").find("x", argument="inks")


def test_doubles_name_both_owners() -> None:
    """Two things of one name are refused with both who brought them, before any is given out."""
    both = registry("ochre", "umber").adding(Entry.of("ochre", "a guest", "OTHER"))
    for look_up in (lambda: both.find("umber"), lambda: [*both], lambda: "umber" in both):
        with pytest.raises(ClashError) as caught:
            look_up()
        assert str(caught.value) == (
            'there are two colours "ochre", from us and from a guest: '
            "give one of them another name."
        )


def test_adding_leaves_the_first_as_it_is() -> None:
    """A registry is a value: what is added makes another."""
    first = registry("ochre")
    second = first.adding(Entry.of("umber", "them", "UMBER"))
    assert ([*first], [*second]) == (["ochre"], ["ochre", "umber"])


def test_shadows() -> None:
    """What shadows comes first and counts where two have one name; the others stay as they were."""
    found = registry("ochre", "umber").shadowed_by(Entry.of("umber", "them", "OWN"))
    assert [*found] == ["umber", "ochre"]
    assert [*found.things()] == ["OWN", "OCHRE"]


def test_late() -> None:
    """Entries are asked for at the first look-up, a thing is made once and when it is used."""
    told = []

    def made() -> str:
        told.append("made")
        return "OCHRE"

    def entries() -> list[Entry[str]]:
        told.append("asked")
        return [Entry("ochre", "us", made)]

    found = Registry("colour", entries).adding().shadowed_by()
    assert told == []
    assert "ochre" in found
    assert told == ["asked"]
    assert [found.find("ochre"), found.find("ochre")] == ["OCHRE", "OCHRE"]
    assert told == ["asked", "made"]


def test_named_is_loaded_at_its_first_call() -> None:
    """A function known by where it is does what the function does, and is loaded no sooner."""
    code = (
        "import sys\n"
        "from guidekit.registry import Named\n"
        "fold = Named('textwrap:fill')\n"
        "before = 'textwrap' in sys.modules\n"
        "print(fold('a b', 1), before)"
    )
    assert printed(code) == "a\nb False\n"


@pytest.mark.parametrize("place", ["textwrap:nothing", "no_such_module:fill"])
def test_named_that_is_not_there(place: str) -> None:
    """A function that is not where it should be is Python's own error, by the name that lacks."""
    with pytest.raises((AttributeError, ImportError), match=r"nothing|no_such_module"):
        Named(place)()
