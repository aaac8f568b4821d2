"""Wrong pages: panels, letter maps, counts and spreads that cannot be made."""

from pathlib import Path

import pytest
from support.samples import HEAD, SPLASH, one_page, refused

RECTANGLE = "each letter in the shape of one rectangle"
SPREAD = "[[pages]]\nspread = true\npanels = 1\n"

WRONG = {
    "map that is no rectangle": (
        one_page('map = """\nA A B\nA B B\n"""'),
        f"pages[1].map: got 'A A B\\nA B B\\n'. Allowed: {RECTANGLE}; \"A\" is not.",
    ),
    "map in two places": (
        one_page('map = "A B A"'),
        f"pages[1].map: got 'A B A'. Allowed: {RECTANGLE}; \"A\" is not.",
    ),
    "map with rows of two lengths": (
        one_page('map = """\nA A\nB\n"""'),
        "pages[1].map: got 'A A\\nB\\n'. "
        "Allowed: rows of equal length: row 1 has 2 letters, row 2 has 1.",
    ),
    "empty map": (
        one_page('map = ""'),
        "pages[1].map: got ''. "
        'Allowed: lines of letters, one letter for each place, as in "A A B".',
    ),
    "no panels": (
        one_page('note = "x"'),
        "pages[1]: does not fit together. Allowed: one of panels, tiers, columns and map.",
    ),
    "two kinds of panels": (
        one_page("panels = 1\ntiers = [1]"),
        "pages[1]: does not fit together. "
        "Allowed: one of panels, tiers, columns and map, not panels and tiers.",
    ),
    "no tiers": (
        one_page("tiers = []"),
        "pages[1]: does not fit together. Allowed: tiers with at least one entry.",
    ),
    "no pages": (HEAD, "pages: nothing is there. Allowed: this key must be given."),
    "empty pages": (HEAD + "pages = []", "pages: got []. Allowed: at least one entry."),
    "count of 0": (
        one_page("count = 0\npanels = 1"),
        "pages[1].count: got 0. Allowed: at least 1.",
    ),
    "10,000,000 pages": (
        one_page("count = 10_000_000\npanels = 1"),
        "pages[1].count: got 10000000. Allowed: at most 9,999.",
    ),
    "10,000 pages together": (
        one_page("count = 9999\npanels = 1") + SPLASH,
        "does not fit together. Allowed: at most 9,999 pages, and these are 10,000.",
    ),
}


@pytest.mark.parametrize(("text", "said"), WRONG.values(), ids=WRONG)
def test_wrong_page(tmp_path: Path, text: str, said: str):
    """The problem is told in one line that begins with the file and the page's entry."""
    assert refused(tmp_path, text) == f"guidekit: issue.toml: {said}\n"


@pytest.mark.parametrize(
    ("text", "where", "came"),
    [
        ("panels = 0", "pages[1].panels", "0"),
        ("panels = -2", "pages[1].panels", "-2"),
        ("panels = 1001", "pages[1].panels", "1001"),
        ("panels = 1.5", "pages[1].panels", "1.5"),
        ("panels = true", "pages[1].panels", "true"),
        ("panels = [2]", "pages[1].panels", "[2]"),
        ("tiers = [2, 0]", "pages[1].tiers[2]", "0"),
        ("tiers = [1, { columns = [-1] }]", "pages[1].tiers[2].columns[1]", "-1"),
        ('tiers = [1, ""]', "pages[1].tiers[2]", "''"),
        ("tiers = [2.5]", "pages[1].tiers[1]", "2.5"),
        ("tiers = [true]", "pages[1].tiers[1]", "true"),
        ("tiers = 3", "pages[1].tiers", "3"),
    ],
)
def test_no_number_of_panels(tmp_path: Path, text: str, where: str, came: str):
    """What is no number of panels is told once, in words of comics and not of the parser."""
    said = refused(tmp_path, one_page(text))
    assert said.count("\n") == 1
    place, _, rest = said.removeprefix("guidekit: issue.toml: ").partition(": ")
    assert place.removesuffix(".panels") == where.removesuffix(".panels")
    assert rest.startswith(f"got {came}. Allowed: ")
    assert not [word for word in ("constrained", "function", "input", "()") if word in said]


@pytest.mark.parametrize("text", ["tiers = [600, 600]", "columns = [{ panels = 1000 }, 1]"])
def test_too_many_panels(tmp_path: Path, text: str):
    """A page of more than 1,000 panels is refused however they are written."""
    large = 'format.trim = { width = "9000 px", height = "9000 px" }\n'
    said = refused(tmp_path, HEAD + large + f'[[pages]]\n{text}\ngutter = "1 px"\n')
    assert said.startswith("guidekit: issue.toml: pages[1]")
    assert "1,000" in said


def test_page_with_no_room(tmp_path: Path):
    """A single panel is refused too where the safe area rounds to nothing."""
    tiny = 'format.trim = { width = "3 px", height = "3 px" }\n'
    tiny += 'format.bleed = "0.625 px"\nformat.safe_area = "1.25 px"\n'
    said = refused(tmp_path, HEAD + tiny + SPLASH)
    assert said.startswith("guidekit: issue.toml: ")
    assert "1 px" in said


@pytest.mark.parametrize(
    ("pages", "entry", "pair", "allowed"),
    [
        (SPREAD, 1, "1 and 2", "2 and 3"),
        (SPLASH * 2 + SPREAD, 3, "3 and 4", "2 and 3, or 4 and 5"),
        (SPLASH + SPREAD + SPLASH + SPREAD, 4, "5 and 6", "4 and 5, or 6 and 7"),
    ],
    ids=["first", "third", "fifth"],
)
def test_spread_on_pages_that_do_not_face(
    tmp_path: Path, pages: str, entry: int, pair: str, allowed: str
):
    """A spread must begin on an even page; the pages named as allowed are in the book."""
    move = "move it behind the next" if entry == 1 else "move one page from before it to behind it"
    assert refused(tmp_path, HEAD + pages) == (
        f"guidekit: issue.toml: pages[{entry}].spread: the spread would fall on pages {pair}, and "
        f"these do not face each other. Allowed: an even page first: {allowed}. "
        f"Put one page more before it, or {move}.\n"
    )


def test_spread_without_facing_pages(tmp_path: Path):
    """A preset of single pages has no spreads, and the message says what to do."""
    text = HEAD.replace("us-comic", "vertical-scroll") + SPLASH + SPREAD
    assert refused(tmp_path, text) == (
        "guidekit: issue.toml: pages[2].spread: the spread would fall on pages 2 and 3, and this "
        "preset has no facing pages. Allowed: spreads where the preset has facing = true. "
        "Take another preset, or make it two pages.\n"
    )


def test_canvas_over_the_limit_of_a_format(tmp_path: Path):
    """A spread larger than a format holds is refused with the file, the pages and the limit."""
    trim = 'format.trim = { width = "150001 px", height = "10 in" }\nformat.bleed = "0 px"\n'
    assert refused(tmp_path, HEAD + trim + SPLASH + SPREAD + SPLASH) == (
        "guidekit: issue.toml: pages 2 and 3, format psd: 300,002 px along an "
        "edge. Allowed: at most 300,000 px along an edge. "
        "These hold it: png, png-rgba, png-page, png-layers, ora, tiff, tiff-page, svg.\n"
    )
