"""An issue out of a script: pages, panels with room for their words, and later drift."""

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.samples import REPOSITORY, run_here

from guidekit import load_issue
from guidekit.geometry.plan import plan_issue
from guidekit.script.room import room_for
from guidekit.script.tiers import fitting_tiers, shares_of

EXAMPLE = REPOSITORY / "examples" / "glass-harbour.txt"


def made(folder: Path, text: str, *options: str) -> tuple[str, str]:
    """The pages of the issue made of a script, and what was said of it."""
    source = folder / "script.txt"
    source.write_text(text, "utf-8")
    done = run_here("new", folder / "new", "--from", source, *options)
    assert done.code == 0, done.err
    issue = (folder / "new" / "new.toml").read_text("utf-8")
    return issue[issue.index("[[pages]]") :], done.out


def test_the_example(tmp_path: Path) -> None:
    """The issue of the example script has its pages and panels, and agrees with it."""
    assert run_here("new", tmp_path / "harbour", "--from", EXAMPLE).code == 0
    file = load_issue(tmp_path / "harbour")
    plans = plan_issue(file)
    assert file.issue.title == "The Glass Harbour"
    assert [(p.numbers, len(p.panels)) for p in plans] == [
        ((1,), 1), ((2, 3), 2), ((4,), 5), ((5,), 3), ((6,), 1), ((7,), 4), ((8,), 1),
    ]  # fmt: skip
    assert [p.numbers for p in plans if p.reveal] == [(6,)]
    assert plans[1].note == "The whole town, seen from the mast."
    agreed = run_here("compare", tmp_path / "harbour", EXAMPLE)
    assert agreed.out.endswith("agree in pages, panels and spreads.\n")


def test_a_spread_that_cannot_be_one(tmp_path: Path) -> None:
    """A spread on pages that do not face each other becomes two pages, and that is told."""
    text = "PAGES 1-2 (spread)\n" + "".join(f"PANEL {n}\n" for n in (1, 2, 3))
    pages, said = made(tmp_path, text)
    assert pages.count("[[pages]]") == 2
    assert "spread" not in pages
    assert "line 1: pages 1 and 2 do not face each other, and are two single pages" in said


def test_missing_pages_are_blank_and_words_are_tight(tmp_path: Path) -> None:
    """Missing pages keep the place of those behind them; a panel with no room is told by line."""
    many = "word " * 260
    pages, said = made(tmp_path, f"PAGE 1\nPANEL 1\nMIRA: {many}\nPAGE 4\nPANEL 1\n")
    assert '[[pages]]\ncount = 2\nkind = "blank"\n' in pages
    assert "line 2: page 1, panel 1: 260 words, and there is room for about 210" in said


def test_a_script_for_a_scroll(tmp_path: Path) -> None:
    """In a format for scrolls the panels of a page are one below the other."""
    pages, _ = made(tmp_path, "PAGE 1\nPANEL 1\nPANEL 2\n", "--preset", "vertical-scroll")
    assert pages.count("ratio") == 2
    assert len(plan_issue(load_issue(tmp_path / "new"))[0].panels) == 2


def test_hostile_words(tmp_path: Path) -> None:
    """Quotes, backslashes and control characters of a script stay words of a note."""
    text = 'PAGE 1\nHe said: """no\\way""" \x1b[31m \x7f "quoted"\nPANEL 1\n'
    made(tmp_path, text)
    (plan,) = plan_issue(load_issue(tmp_path / "new"))
    assert plan.note.startswith('He said: """no\\way"""')


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("PANEL 5\n", ""), "page 4: 4 panels in the script, 5 in the issue"),
        (("PAGES 2-3 (SPREAD)", "PAGES 2-3"), None),
        (("PAGES 2-3 (SPREAD)", "PAGE 2"), "page 2: a spread in the issue, and none in"),
        (("MIRA: Is", "MIRA: " + "so " * 250 + "Is"), "pages 2 and 3, panel 2: 259 words"),
        (("PAGE 8", "PAGE 8\nPANEL 1\nPAGE 9"), "page 9 is not in the issue"),
        (("PAGE 8\n\nPANEL 1\n", ""), "page 8 is in the issue and not in the script"),
    ],
)  # fmt: skip
def test_drift(change: tuple[str, str], said: str | None, tmp_path: Path) -> None:
    """Each change of a script since its issue was made is told."""
    run_here("new", tmp_path / "harbour", "--from", EXAMPLE)
    text = EXAMPLE.read_text("utf-8")
    assert change[0] in text
    later = tmp_path / "later.txt"
    later.write_text(text.replace(*change, 1), "utf-8")
    done = run_here("compare", tmp_path / "harbour", later)
    assert done.code == 0
    if said is None:
        assert "agree" in done.out
    else:
        assert said in done.out
    assert '"differences": [' in run_here("compare", tmp_path / "harbour", later, "--json").out


def test_the_panel_that_says_most_has_most_room() -> None:
    """Of five panels the talkative one gets a tier for itself; silent ones share evenly."""
    assert fitting_tiers([5, 5, 60, 5, 5]) == (2, 1, 2)
    assert fitting_tiers([0] * 6) == (2, 2, 2)
    assert fitting_tiers([0] * 9) == (3, 3, 3)
    assert fitting_tiers([40]) == (1,)


@given(st.lists(st.integers(0, 120), min_size=1, max_size=40))
def test_tiers_hold_all_panels(words: list[int]) -> None:
    """Tiers have as many panels as the script, whose shares make up the whole page."""
    tiers = fitting_tiers(words)
    assert sum(tiers) == len(words)
    assert sum(shares_of(tiers)) == 1


def test_no_page_is_cut_into_strips() -> None:
    """Up to twelve panels have at most four tiers, as pages have (common practice, no source)."""
    for count in range(1, 13):
        assert len(fitting_tiers([1] * count)) <= 4
    assert fitting_tiers([1] * 5) == (1, 2, 2)


def test_room() -> None:
    """35 words in a panel of six, 210 on a page (common practice, no source)."""
    assert (room_for(Fraction(1, 6)), room_for(1)) == (35, 210)


def test_pages_come_from_the_script_alone(tmp_path: Path) -> None:
    """A number of pages beside a script is refused."""
    done = run_here("new", tmp_path / "x", "--from", EXAMPLE, "--pages", 8)
    assert (done.code, "the script says how many pages" in done.err) == (2, True)
