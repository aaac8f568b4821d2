"""Scripts in the plain shape, in many spellings, and what is not understood."""

from pathlib import Path

import pytest
from support.script_texts import script, shape


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("PAGE 1", (1, False)),
        ("Page One", (1, False)),
        ("page one:", (1, False)),
        ("PAGE 1 (FIVE PANELS)", (1, False)),
        ("PAGE 1 - FIVE PANELS", (1, False)),
        ("PAGE 1 – splash", (1, False)),
        ("**PAGE 1**", (1, False)),
        ("# Page 1", (1, False)),
        ("PAGES 1-2", (1, True)),
        ("PAGES ONE AND TWO", (1, True)),
        ("Pages 1 & 2 (spread)", (1, True)),
        ("PAGE 1 (SPREAD)", (1, True)),
        ("Page 1 is missing from this script.", None),
        ("pagination 1", None),
        ("On page 1 we saw her.", None),
    ],
)
def test_page_headings(line: str, found: tuple[int, bool] | None, tmp_path: Path) -> None:
    """Headings in many spellings; a sentence that only speaks of a page is none."""
    read = script(tmp_path, f"PAGE 1\nPANEL 1\n{line}\n" if found is None else f"{line}\nPANEL 1\n")
    assert [(page.number, page.spread) for page in read.pages] == [found or (1, False)]


@pytest.mark.parametrize(
    "line", ["PANEL 1", "Panel One:", "PANEL 1. A door.", "panel 1 - a door", "INSET PANEL 1"]
)
def test_panel_headings(line: str, tmp_path: Path) -> None:
    """Panels in many spellings, their description behind them or below."""
    (page,) = script(tmp_path, f"PAGE 1\n{line}\nIt opens.\n").pages
    assert page.panels[0].description[-1] == "It opens."


def test_a_sentence_that_begins_with_a_panel(tmp_path: Path) -> None:
    """``Panel 1 again`` within panel 2 describes it; three panels under one heading are three."""
    read = script(tmp_path, "PAGE 1\nPANEL 1\nPANEL 2\nPanel 1 again, from below.\nPANELS 3-5\n")
    assert shape(read) == [(1, False, 5)]
    assert read.pages[0].panels[1].description == ["Panel 1 again, from below."]


def test_words_to_letter(tmp_path: Path) -> None:
    """Speeches in a line and below a name count; directions, descriptions and sounds do not."""
    read = script(
        tmp_path,
        "PAGE 1\nPANEL 1\nA door. It is: old.\nMIRA: One two three.\nTOM (off): four five\n"
        "SFX: BANG BANG\n1. CAPTION: six\n\nOLD TOM\n(softly)\nseven eight\nnine\n\nThe end.\n",
    )
    (panel,) = read.pages[0].panels
    assert panel.words == 9
    assert [who for who, _ in panel.speeches] == ["MIRA", "TOM", "SFX", "CAPTION", "OLD TOM"]
    assert panel.description == ["A door. It is: old.", "The end."]


def test_what_is_not_understood_is_told_by_line(tmp_path: Path) -> None:
    """Whatever is odd is told with its line, and the rest of the script is still read."""
    read = script(
        tmp_path,
        "TITLE: Salt\nDraft three\nPANEL 1\nPAGE 1\nPANEL 2\nPAGE\nPAGE 4\nPAGE 2\n"
        "PAGE 900\nPAGES 7-12\n",
    )
    assert read.title == "Salt"
    assert [page.number for page in read.pages] == [1, 4, 5, 6, 7]
    assert [str(remark) for remark in read.remarks] == [
        "line 2: stands before the first page",
        "line 3: a panel before the first page",
        "line 5: panel 2 where panel 1 is expected",
        "line 6: a heading without a number: PAGE",
        "line 7: pages 2 to 3 are not in the script, and left blank",
        "line 8: page 2 comes after page 4, and is taken as page 5",
        "line 9: page 900 comes after page 5, and is taken as page 6",
        "line 10: pages 7 to 12 under one heading, of which the first is taken",
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("PAGE 1 (2 panels)\n1. A door.\nMIRA: Hm.\n2) A stair.\n", [(1, False, 2)]),
        ("PAGE 1\n1\nA door.\n2\nA stair.\nPAGE 2\n2.1 A roof.\n", [(1, False, 2), (2, False, 1)]),
        ("PAGE 1\n2. A list\n1.5 m tall\n", [(1, False, 0)]),
        ("PAGE 1\nPANEL 1\n2. MIRA: Hm.\n", [(1, False, 1)]),
        ("PAGE 1 / PANEL 1\nPAGE 1 / PANEL 2\nPage Two, Panel One: A roof.\n",
         [(1, False, 2), (2, False, 1)]),
        ("PG. 1\nPNL 1\n**Panel 2:** A roof.\n", [(1, False, 2)]),
        ("PLANCHE 1 (2 cases)\nCase 1\nCASE 2 : noir\nPLANCHES 2 ET 3\nCase 1\n",
         [(1, False, 2), (2, True, 1)]),
        ("Seite 1\nBild 1\nSEITEN 2-3 (Doppelseite)\n", [(1, False, 1), (2, True, 0)]),
        ("PÁGINA 1\nVIÑETA 1\nViñeta 2. El mar.\n", [(1, False, 2)]),
        ("PAGINA 1\nVignetta 1\n", [(1, False, 1)]),
        ("1ページ\n1コマ目\n2コマ\n2-3ページ（見開き）\nコマ1\n", [(1, False, 2), (2, True, 1)]),
        ("PAGE 1\nPANEL 1\nCase 2 is open.\nBild 2\n", [(1, False, 1)]),
    ],
)  # fmt: skip
def test_shapes_in_which_scripts_are_written(
    text: str, expected: list[tuple[int, bool, int]], tmp_path: Path
) -> None:
    """Panels as bare numbers, page and panel in one line, short words, the words of a language."""
    assert shape(script(tmp_path, text)) == expected


def test_panels_that_only_the_heading_counts(tmp_path: Path) -> None:
    """They stand in for panels that are not told apart; where both are there, they are compared."""
    read = script(tmp_path, "PAGE ONE (FIVE PANELS)\nShe runs.\nPAGE 2: 3 panels\nPANEL 1\n")
    assert shape(read) == [(1, False, 5), (2, False, 1)]
    assert [str(remark) for remark in read.remarks] == [
        "line 1: page 1: 5 panels in its heading, none below it",
        "line 3: page 2: 3 panels in its heading, 1 below it",
    ]


def test_a_name_right_below_other_lines(tmp_path: Path) -> None:
    """Below a heading or a description a name begins a speech; capitals that describe do not."""
    read = script(
        tmp_path,
        "PAGE 1\nPANEL 1\nORLA\nOne two.\n\nA bridge.\nBRAM\n(off)\nThree.\n\n"
        "PANEL 2\nA MAN STANDS.\nHE FALLS\nAND LIES STILL.\n",
    )
    first, second = read.pages[0].panels
    assert first.speeches == [("ORLA", ["One two."]), ("BRAM", ["Three."])]
    assert (second.words, len(second.description)) == (0, 3)
