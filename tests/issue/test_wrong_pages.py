"""Wrong pages: panels, letter maps, counts and spreads that cannot be made."""

from pathlib import Path

import pytest
from support.samples import HEAD, SPLASH, one_page, refused

ONE_CONTENT = "Write one of panels, tiers, columns, map and triangles."
SPREAD = "[[pages]]\nspread = true\npanels = 1\n"

WRONG = {
    "map in two places": (
        one_page('map = "A B A"'),
        'line 5, pages[1].map: the places of "A" lie in 2 groups. Join them, or take another '
        "letter for one of the groups: places that join along their edges are one panel.",
    ),
    "map with rows of two lengths": (
        one_page('map = """\nA A\nB\n"""'),
        "line 5, pages[1].map: row 1 has 2 letters, and row 2 has 1. Write rows of equal length.",
    ),
    "map without spaces": (
        one_page('map = "AAB"'),
        'line 5, pages[1].map: "AAB" has no spaces. Write "A A B".',
    ),
    "empty map": (
        one_page('map = ""'),
        'line 5, pages[1].map: "" is not a map. '
        'Write lines of letters, one letter for each place, as in "A A B".',
    ),
    "no panels": (
        one_page('note = "x"'),
        f"line 4, pages[1]: no panels are on this page. {ONE_CONTENT}",
    ),
    "two kinds of panels": (
        one_page("panels = 1\ntiers = [1]"),
        f"line 6, pages[1].tiers: panels and tiers are both here. {ONE_CONTENT}",
    ),
    "several panels without an order": (
        one_page("panels = 4"),
        "line 5, pages[1].panels: 4 panels may lie in many ways. "
        "Write the name of a layout, or tiers, as in tiers = [2, 3, 1].",
    ),
    "no tiers": (
        one_page("tiers = []"),
        "line 5, pages[1].tiers: this list is empty. Write at least one entry.",
    ),
    "an empty scroll": (
        one_page("scroll = []"),
        "line 5, pages[1].scroll: this list is empty. Write at least one entry.",
    ),
    "no pages": (
        HEAD,
        "pages: this key is missing. Add [[pages]], and below it tiers = [2, 3, 1].",
    ),
    "empty pages": (
        HEAD + "pages = []",
        "line 4, pages: this list is empty. Write at least one entry.",
    ),
    "count of 0": (
        one_page("count = 0\npanels = 1"),
        "line 5, pages[1].count: 0 is too small. Write 1 or more.",
    ),
    "10,000,000 pages": (
        one_page("count = 10_000_000\npanels = 1"),
        "line 5, pages[1].count: 10000000 is too large. Write 9,999 or less.",
    ),
    "10,000 pages together": (
        one_page("count = 9999\npanels = 1") + SPLASH,
        "line 4, pages: these are 10,000 pages. Write at most 9,999 pages.",
    ),
    "an old name": (
        one_page('panels = 1\nsafe = "5 mm"'),
        "line 6, pages[1].safe: this key has another name now. Write safe_area.",
    ),
    "spread in quotes": (
        one_page('panels = 1\nspread = "True"'),
        'line 6, pages[1].spread: "True" is not true or false. Write true, without quotes.',
    ),
}


@pytest.mark.parametrize(("text", "said"), WRONG.values(), ids=WRONG)
def test_wrong_page(tmp_path: Path, text: str, said: str) -> None:
    """The problem is told in one line that begins with the file and the page's entry."""
    assert refused(tmp_path, text) == f"guidekit: issue.toml, {said}\n"


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
        ('tiers = [1, ""]', "pages[1].tiers[2]", '""'),
        ("tiers = [2.5]", "pages[1].tiers[1]", "2.5"),
        ("tiers = [true]", "pages[1].tiers[1]", "true"),
        ("tiers = 3", "pages[1].tiers", "3"),
    ],
)
def test_no_number_of_panels(tmp_path: Path, text: str, where: str, came: str) -> None:
    """What is no number of panels is told once, in words of comics and not of the parser."""
    said = refused(tmp_path, one_page(text))
    assert said.count("\n") == 1
    place, _, rest = said.removeprefix("guidekit: issue.toml, line 5, ").partition(": ")
    assert place == where
    assert rest.startswith((f"{came} is not a ", f"{came} is empty. "))
    assert ". Write " in rest
    assert not [word for word in ("constrained", "function", "input", "()") if word in said]


@pytest.mark.parametrize("text", ["tiers = [600, 600]", "columns = [{ panels = 1000 }, 1]"])
def test_too_many_panels(tmp_path: Path, text: str) -> None:
    """A page of more than 1,000 panels is refused however they are written."""
    large = 'format.trim = { width = "9000 px", height = "9000 px" }\n'
    said = refused(tmp_path, HEAD + large + f'[[pages]]\n{text}\ngutter = "1 px"\n')
    assert said.startswith("guidekit: issue.toml, line 6, page 1, pages[1].tiers[2]: ") or (
        said.startswith("guidekit: issue.toml, line 6, page 1, pages[1].columns[2]: ")
    )
    assert "1,000" in said


def test_page_with_no_room(tmp_path: Path) -> None:
    """A single panel is refused too where the safe area rounds to nothing."""
    tiny = 'format.trim = { width = "3 px", height = "3 px" }\n'
    tiny += 'format.bleed = "0.625 px"\nformat.safe_area = "1.25 px"\n'
    said = refused(tmp_path, HEAD + tiny + SPLASH)
    assert said == (
        "guidekit: issue.toml, line 7, page 1, pages[1]: the safe area has no room for a panel. "
        "Take a higher dpi, or a smaller safe_area.\n"
    )


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
) -> None:
    """A spread must begin on an even page; the pages named as allowed are in the book."""
    line = (HEAD + pages).splitlines().index("spread = true") + 1 if entry < 4 else 12
    move = "move it behind the next" if entry == 1 else "move one page from before it to behind it"
    assert refused(tmp_path, HEAD + pages) == (
        f"guidekit: issue.toml, line {line}, pages {pair}, pages[{entry}].spread: a spread would "
        f"fall on pages {pair}, which do not face each other. Put one page more before it, or "
        f"{move}: pages {allowed} face each other.\n"
    )


def test_spread_without_facing_pages(tmp_path: Path) -> None:
    """A preset of single pages has no spreads, and the message says what to do."""
    text = HEAD.replace("us-comic", "vertical-scroll") + SPLASH + SPREAD
    assert refused(tmp_path, text) == (
        "guidekit: issue.toml, line 7, pages 2 and 3, pages[2].spread: a spread would fall on "
        "pages 2 and 3, and this preset has no facing pages. "
        "Take another preset, or make it two pages.\n"
    )


def test_canvas_over_the_limit_of_a_format(tmp_path: Path) -> None:
    """A spread larger than a format holds is refused with the file, the pages and the limit."""
    trim = 'format.trim = { width = "150001 px", height = "10 in" }\nformat.bleed = "0 px"\n'
    assert refused(tmp_path, HEAD + trim + SPLASH + SPREAD + SPLASH) == (
        "guidekit: issue.toml, pages 2 and 3: 300,002 px along an edge are too many for psd, which "
        "holds at most 300,000 px along an edge. "
        "Take ora, png, png-layers, png-page, png-small, svg, tiff or tiff-page.\n"
    )
