"""Which page lies on which side, what can be a spread, and what the files are called."""

import re
import unicodedata
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from guidekit.errors import InputError
from guidekit.issue.file_names import issue_file_name, page_file_name
from guidekit.issue.models.issue import MOST_PAGES, Issue
from guidekit.issue.order import PageEntry, in_order


def issue(*pages: dict[str, Any], **rest: Any) -> Issue:
    """An issue with these entries of pages."""
    filled = [{"panels": "splash"} | page for page in pages] or [{"panels": "splash"}]
    return Issue(**({"title": "The Salt Road", "preset": "us-comic", "pages": filled} | rest))


def entries(*pages: dict[str, Any], direction: str = "ltr") -> tuple[PageEntry, ...]:
    """The canvases of an issue on facing pages."""
    return in_order(issue(*pages), facing=True, direction=direction)


@pytest.mark.parametrize(
    ("direction", "sides"),
    [("ltr", ["right", "left", "right", "left"]), ("rtl", ["left", "right", "left", "right"])],
)
def test_sides(direction: str, sides: list[str]) -> None:
    """Page 1 is a right page in left-to-right books and a left page in right-to-left ones.

    CSS Paged Media 3, page progression: "In documents with a left-to-right page progression the
    first page of the document is a right page, and vice versa."
    """
    found = entries({"count": 3}, {}, direction=direction)
    assert [entry.side for entry in found] == sides
    assert [entry.numbers for entry in found] == [(1,), (2,), (3,), (4,)]
    assert [entry.key for entry in found] == [("pages", 0)] * 3 + [("pages", 1)]


def test_single_pages_have_no_side() -> None:
    """Where no pages face each other, all are single."""
    found = in_order(issue({"count": 3}), facing=False, direction="rtl")
    assert [entry.side for entry in found] == ["single"] * 3


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_spreads_face(direction: str) -> None:
    """A spread takes two page numbers, the even one first, whichever way the book reads."""
    found = entries({}, {"spread": True, "count": 2}, {}, direction=direction)
    assert [entry.numbers for entry in found] == [(1,), (2, 3), (4, 5), (6,)]
    assert [entry.side for entry in found][1:3] == ["spread", "spread"]
    assert found[0].side != found[3].side
    assert [entry.called for entry in found] == [
        "page 1",
        "pages 2 and 3",
        "pages 4 and 5",
        "page 6",
    ]


@given(
    st.lists(st.tuples(st.booleans(), st.integers(1, 4)), min_size=1, max_size=8),
    st.sampled_from(["ltr", "rtl"]),
)
def test_every_page_once(shape: list[tuple[bool, int]], direction: str) -> None:
    """Every number comes once, in order, and spreads pass just where both of their pages face."""
    pages = [{"spread": spread, "count": count} for spread, count in shape]
    begins, number = [], 1
    for spread, count in shape:
        begins += [number] if spread else []
        number += count * (2 if spread else 1)
    if any(begin % 2 for begin in begins):
        with pytest.raises(InputError) as caught:
            entries(*pages, direction=direction)
        assert len(caught.value.problems) == sum(begin % 2 for begin in begins)
    else:
        found = entries(*pages, direction=direction)
        assert [n for entry in found for n in entry.numbers] == [*range(1, number)]


def test_a_spread_that_does_not_face() -> None:
    """The message names both pairs that would face, and two ways to come there."""
    with pytest.raises(InputError) as caught:
        entries({"count": 2}, {"spread": True})
    assert str(caught.value) == (
        "pages 3 and 4, pages[2].spread: a spread would fall on pages 3 and 4, which do not face "
        "each other. Put one page more before it, or move one page from before it to behind it: "
        "pages 2 and 3, or 4 and 5 face each other."
    )


def test_a_spread_on_page_1() -> None:
    """Page 1 faces no page: the message offers nothing before it, for there is no page 0."""
    with pytest.raises(InputError) as caught:
        entries({"spread": True})
    said = str(caught.value)
    assert "pages 1 and 2, which do not face each other" in said
    assert "2 and 3" in said
    assert not re.search(r"\b0\b", said)
    assert "from before it" not in said


def test_no_spread_on_single_pages() -> None:
    """Where no pages face each other the message says so, for every spread of the issue."""
    with pytest.raises(InputError) as caught:
        in_order(issue({"spread": True}, {"spread": True}), facing=False, direction="ltr")
    assert [problem.key for problem in caught.value.problems] == [
        ("pages", 0, "spread"),
        ("pages", 1, "spread"),
    ]
    assert str(caught.value).splitlines()[1] == (
        "pages 3 and 4, pages[2].spread: a spread would fall on pages 3 and 4, and this preset has "
        "no facing pages. Take another preset, or make it two pages."
    )


@pytest.mark.parametrize("spread", [False, True])
def test_not_endless(spread: bool) -> None:
    """No issue has more pages than the limit, and a spread counts as two."""
    each = 2 if spread else 1
    issue({"count": MOST_PAGES // each, "spread": spread})
    with pytest.raises(ValidationError, match=f"at most {MOST_PAGES:,} pages"):
        issue({"count": MOST_PAGES // each, "spread": spread}, {"spread": True})


@pytest.mark.parametrize(
    ("values", "file_name"),
    [
        ({"number": 2}, "salt-road-02"),
        ({}, "salt-road"),
        ({"title": "A"}, "a"),
        ({"title": "An Hour", "number": 0}, "hour-00"),
        ({"title": "An Hour", "file_name": "The Hour", "number": 123}, "the-hour-123"),
        ({"title": "../etc/passwd \\ C:\\x"}, "etc-passwd-c-x"),
        ({"title": "?!*"}, "issue"),
        ({"title": "  What_now?  Part 3  "}, "what-now-part-3"),
        ({"title": "塩の道", "number": 7}, "塩の道-07"),
        ({"title": "Соль и Дорога"}, "соль-и-дорога"),
        ({"title": "Año Œuvre Straße"}, "año-œuvre-straße"),
    ],
)
def test_file_names(values: dict[str, Any], file_name: str) -> None:
    """File names begin with the title in small letters and hyphens, without a leading article."""
    assert issue_file_name(issue(**values)) == file_name


@pytest.mark.parametrize("title", ["हिन्दी", "เรื่อง", "தமிழ்", unicodedata.normalize("NFD", "Résumé")])
def test_marks_belong_to_their_letters(title: str) -> None:
    """Vowel signs and accents written as characters of their own do not part a word.

    Unicode Standard Annex 29, 4.1: a word does not break before a mark that extends a letter (WB4).
    """
    assert "-" not in issue_file_name(issue(title=title))


@pytest.mark.parametrize("title", ["x" * 250, "道" * 250, "é" * 119 + " b" * 60, "道 " * 120])
def test_long_file_names(title: str) -> None:
    """However long the title, every file name stays below 255 bytes and is whole characters."""
    file_name = issue_file_name(issue(title=title, number=99_999))
    assert len(page_file_name(file_name, (9_998, 9_999)).encode()) < 255 - len(".psd.partial-name")
    assert file_name.endswith("-99999")
    assert "--" not in file_name
    assert re.findall(r"[^\W_]+", title)[0].startswith(file_name.split("-")[0])


def test_page_file_names() -> None:
    """A canvas is called by its page numbers in three digits, so that names sort as pages do."""
    assert page_file_name("salt-road-02", (4,)) == "salt-road-02-p004"
    assert page_file_name("salt-road-02", (4, 5)) == "salt-road-02-p004-005"
    names = [page_file_name("x", (number,)) for number in range(1, 1000)]
    assert names == sorted(names)


@given(st.text(min_size=1, max_size=60).filter(lambda x: x.strip() and x.isprintable()))
def test_no_title_leads_out_of_the_folder(title: str) -> None:
    """Whatever the title, the name holds no separator, dot, space or sign, and is never empty."""
    file_name = issue_file_name(issue(title=title))
    assert file_name
    assert not file_name.startswith("-")
    assert not re.search(r"""[\s/\\.:*?"'<>|~$&;]""", file_name)
