"""Letters of scripts: numbers in words, encodings, and what cannot be read at all."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.script_texts import script, shape

from guidekit import InputError
from guidekit.script.numbers import NUMBER, number_in
from guidekit.script.reading import read_script


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
    ("text", "said"),
    [
        (b"", "no line of this script begins a page. Write PAGE 1, PAGE 2"),
        (b"Once upon a time.\n", "no line of this script begins a page"),
        (b"PAGE 1\0\0\0", "this is no text. Save it as plain text."),
        (b"\xe9\xe8\n\xe0\nPAGE 1\n", "line 1: most lines of this file have letters that are not"),
        (b"PAGE 1\n" + b"PANEL 1\n" * 5_000, "line 1: page 1 has 5,000 panels. Write at most"),
        (b"PAGE 1\nPANELS 1-5000\n", "page 1 has 1,001 panels"),
        (b"PAGE 1\n" * 10_000, "at most 9,999 pages"),
        (b"PAGE 1 (999 PANELS)\n" * 9_000, "it has 8,991,000 panels. Write at most 100,000"),
        (b"PAGE 1\nPANELS 1-999\n" * 9_000, "it has 8,991,000 panels. Write at most 100,000"),
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
