"""Problems in words: where they stand, what came, what to do; and values as messages show them."""

from pathlib import Path

import pytest

from guidekit.errors import InputError, Key, Problem, key_text, shown, told

FILE = Path("books", "salt-road.toml")


@pytest.mark.parametrize(
    ("problem", "text"),
    [
        (
            Problem(("pages", 2, "tiers"), "2 is x", "y", "Do z.", FILE, 12, (4,)),
            "salt-road.toml, line 12, page 4, pages[3].tiers: 2 is x. Do z.",
        ),
        (
            Problem(("a", "b c", 0), "2 is x", "y", file=FILE, pages=(4, 5)),
            'salt-road.toml, pages 4 and 5, a."b c"[1]: 2 is x. Write y.',
        ),
        (Problem((), "this is x", "y", "Do z.", FILE), f"{FILE}: this is x. Do z."),
        (Problem((), "2 is x", "y", argument="dpi"), "dpi: 2 is x. Write y."),
        (Problem((), "2 is not y", "y"), "2 is not y."),
        (Problem((), "2 is x"), "2 is x."),
    ],
)
def test_in_words(problem: Problem, text: str) -> None:
    """A problem is told as place, what came, what to do; what is allowed is told once."""
    assert str(problem) == text


def test_many_problems() -> None:
    """A message has at most twenty problems and says how many more there are; the data has all."""
    problems = [Problem((), f"{i} is x") for i in range(1_022)]
    error = InputError(problems)
    assert str(error).splitlines() == [f"{i} is x." for i in range(20)] + [
        "And 1,002 more problems."
    ]
    assert len(error.problems) == 1_022
    assert told(problems[:21]).endswith("\nAnd 1 more problem.")
    assert "more" not in told(problems[:20])


def test_files_of_one_name_are_told_apart() -> None:
    """Where two files share a name, each is told with its folder; one told twice is not."""
    one, other = Path("one", "issue.toml"), Path("two", "issue.toml")
    series = (Path("one", "..", "series.toml"), Path("two", "..", "series.toml"))
    files = (one, other, one, *series)
    assert told([Problem(("a",), "2 is x", file=file, line=7) for file in files]).splitlines() == [
        f"{one}, line 7, a: 2 is x.",
        f"{other}, line 7, a: 2 is x.",
        f"{one}, line 7, a: 2 is x.",
        "series.toml, line 7, a: 2 is x.",
        "series.toml, line 7, a: 2 is x.",
    ]
    assert told([Problem(("a",), "2 is x", file=one)] * 2).count(f"{one}") == 0


def test_as_data() -> None:
    """A program gets every part by itself, and the whole sentence."""
    problem = Problem(("pages", 0), "2 is x", "y", "Do z.", FILE, 12, (4,))
    assert problem.as_data() == {
        "file": str(FILE),
        "line": 12,
        "pages": [4],
        "key": "pages[1]",
        "argument": "",
        "came": "2 is x",
        "allowed": "y",
        "todo": "Do z.",
        "told": "salt-road.toml, line 12, page 4, pages[1]: 2 is x. Do z.",
    }


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ((), ""),
        (("a", 0, 1, "b-c"), "a[1][2].b-c"),
        (("é", 'a"b'), 'é."a\\"b"'),
        (("k" * 50, 0), f'"{"k" * 37}…"[1]'),
    ],
)
def test_keys(key: Key, text: str) -> None:
    """A key is written as in TOML, one that is long short; places in lists are counted from 1."""
    assert key_text(key) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (True, "true"),
        (3.5, "3.5"),
        (-2, "-2"),
        ('say "x"\n', '"say \\"x\\"\\n"'),
        ([1, ["a"]], '[1, ["a"]]'),
        ({"a b": 1, "c": {}}, '{ "a b" = 1, c = {} }'),
        ("x" * 100, f'"{"x" * 77}…"'),
        ([7] * 100, f"[{'7, ' * 26}…"),
    ],
)
def test_values(value: object, text: str) -> None:
    """A value is shown as TOML writes it, on one line of at most 80 characters."""
    assert shown(value) == text
    assert len(text) <= 80


def test_a_number_that_python_does_not_print() -> None:
    """Of a number of more than 4,300 digits Python tells no decimals; its length is told."""
    assert shown(10**6_000) == "a number of 6,001 digits"
    assert shown(-(16**5_000)) == "a number of 6,021 digits"
