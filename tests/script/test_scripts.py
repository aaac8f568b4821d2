"""Scripts: the plain shape, Fountain, what is not understood, and what cannot be read at all."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidekit import InputError
from guidekit.script.numbers import NUMBER, number_in
from guidekit.script.reading import read_script
from guidekit.script.script import Script


def script(folder: Path, text: str | bytes, name: str = "script.txt") -> Script:
    """A script with this text."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_script(path)


def shape(read: Script) -> list[tuple[int, bool, int]]:
    """Number, whether it is a spread, and count of panels of every page."""
    return [(page.number, page.spread, len(page.panels)) for page in read.pages]


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


FOUNTAIN = """\
Title: The Well
Author: Nobody
    and somebody

# Act One

## PAGE 1

.PANEL 1
Sand. /* PAGE 9
PANEL 4 */ And wind. [[PANEL 5: later?]]

@McADA
(tired)
Nothing here.

BRICK ^
~Sing of salt.

> CUT TO:

INT. TENT - NIGHT

= PAGE 7 is a synopsis

===

## PAGES 2-3
### Panel One
!PAGE 8 IS FORCED ACTION, AND A HEADING ALL THE SAME
"""


def test_fountain(tmp_path: Path) -> None:
    """Title page, sections, forced elements, notes and comments as fountain.io/syntax has them."""
    read = script(tmp_path, FOUNTAIN, "well.fountain")
    assert read.title == "The Well"
    assert shape(read) == [(1, False, 1), (2, True, 1)]
    first, second = read.pages
    assert (first.section, second.section) == ("Act One", "")
    assert first.panels[0].description == ["Sand.", "And wind."]
    assert first.panels[0].speeches == [("McADA", ["Nothing here."]), ("BRICK", ["Sing of salt."])]
    assert read.remarks == ()


@given(st.integers(1, 99))
def test_numbers_in_words(number: int) -> None:
    """Every number up to ninety-nine is read as it is spelled, with a hyphen or without."""
    import re

    small = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    small += "fifteen sixteen seventeen eighteen nineteen"
    tens = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
    words = small.split()[number] if number < 20 else tens[number // 10 - 2]
    words += f"-{small.split()[number % 10]}" if number > 20 and number % 10 else ""
    for text in (words, words.replace("-", " ")):
        assert re.fullmatch(NUMBER, text)
        assert number_in(text) == number


@pytest.mark.parametrize("word", ["s\u0131x", "S\u0130X", "\u017fix"])
def test_words_that_are_almost_numbers(word: str, tmp_path: Path) -> None:
    """A word with a letter that only case folding takes for an i or s begins no page."""
    read = script(tmp_path, f"PAGE 1\nPANEL 1\nPAGE {word}\n")
    assert shape(read) == [(1, False, 1)]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_encodings(encoding: str, tmp_path: Path) -> None:
    """UTF-8 with a mark or without, UTF-16 with its mark, lines ended in any way."""
    text = "Title: Œuvre\r\nPAGE 1\rPANEL 1\nÉté.\n"
    read = script(tmp_path, text.encode(encoding))
    assert (read.title, shape(read)) == ("Œuvre", [(1, False, 1)])


def test_letters_that_cannot_be_read(tmp_path: Path) -> None:
    """A line in another encoding is told, and the rest is read."""
    read = script(tmp_path, b"PAGE 1\nPANEL 1\nCaf\xe9\n\nPANEL 2\nThat\xc3\xa9 End\n")
    assert shape(read) == [(1, False, 2)]
    assert [str(remark) for remark in read.remarks] == [
        "line 3: letters that are not in UTF-8: Caf�"
    ]


@pytest.mark.parametrize(
    ("text", "encoding", "name"),
    [
        ("PLANCHE 1\nCASE 1\nPrès du phare, l'été s’en va.\n", "cp1252", "Windows-1252"),
        ("1ページ\n1コマ目\nとうだいの海。\n", "cp932", "Shift JIS"),
    ],
)
def test_letters_as_windows_saved_them(text: str, encoding: str, name: str, tmp_path: Path) -> None:
    """Western and Japanese text from before UTF-8 is read letter for letter, and that is told."""
    read = script(tmp_path, text.encode(encoding))
    assert shape(read) == [(1, False, 1)]
    assert read.pages[0].panels[0].description == [text.splitlines()[-1]]
    (remark,) = read.remarks
    assert f"not in UTF-8, and read as {name}" in remark.said


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


def test_fountain_to_the_letter(tmp_path: Path) -> None:
    """Emphasis in titles, two spaces within a speech, transitions, what is opened and never ends.

    fountain.io/syntax: Title Page, Emphasis, Dialogue, Transition, Notes, Boneyard.
    """
    read = script(
        tmp_path,
        "Title:\n    _**Glass Harbour**_\n\n# PAGE 1\n## PANEL 1\n\nORLA\nOne.\n  \nTwo.\n\n"
        "CUT TO:\n\nA note [[that\nnever ends.\n\n## PANEL 2\nA /* sign.\n",
        "glass.fountain",
    )
    assert read.title == "Glass Harbour"
    first, second = read.pages[0].panels
    assert first.speeches == [("ORLA", ["One.", "Two."])]
    assert first.description == ["A note [[that", "never ends."]
    assert second.description == ["A /* sign."]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "no line of this script begins a page. Write PAGE 1, PAGE 2"),
        (b"Once upon a time.\n", "no line of this script begins a page"),
        (b"PAGE 1\0\0\0", "this is no text. Save it as plain text."),
        (b"\xe9\xe8\n\xe0\nPAGE 1\n", "line 1: most lines of this file have letters that are not"),
        (b"PAGE 1\n" + b"PANEL 1\n" * 5_000, "line 1: page 1 has 5,000 panels. Write at most"),
        (b"PAGE 1\nPANELS 1-5000\n", "page 1 has 1,001 panels"),
        (b"PAGE 1\n" * 10_000, "at most 9,999 pages"),
    ],
)  # fmt: skip
def test_scripts_that_cannot_be(text: bytes, said: str, tmp_path: Path) -> None:
    """What is no script is refused, with the line where there is one."""
    with pytest.raises(InputError, match=said):
        script(tmp_path, text)
    with pytest.raises(InputError, match="there is no such file"):
        read_script(tmp_path)


@given(
    st.text(st.sampled_from("PAGE1 panel:-\n#.@[]/*()=>!\t~\u2028é"), max_size=200), st.booleans()
)
def test_any_text_is_read_or_refused(text: str, fountain: bool) -> None:
    """Whatever a file holds, it is a script of pages in order or refused as one without any."""
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        try:
            read = script(Path(folder), text, "s.fountain" if fountain else "s.txt")
        except InputError:
            return
    numbers = [page.number for page in read.pages]
    assert numbers == sorted(set(numbers))
