"""The issue on the desk: saved whole, undone to the byte, and never written over blindly."""

from pathlib import Path
from typing import Any

import pytest
from support.planner import HEAD

from guidekit.errors import InputError
from guidekit.planner import issue_file
from guidekit.planner.book_view import book_data
from guidekit.planner.changes import read_change
from guidekit.planner.desk import Desk, UnsavedError
from guidekit.planner.issue_file import StaleError
from guidekit.planner.page_view import page_data, shelf_data
from guidekit.shipped import shipped

TEXT = f"{HEAD}\n[[pages]]   # the first\ntiers = [2, 1]\n\n[[pages]]\ntiers = [3, 1]\n"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk with an issue of two pages."""
    path = tmp_path / "kettle-moth.toml"
    path.write_bytes(TEXT.encode())
    return Desk(path, shipped())


def change(desk: Desk, seen: str = "", **data: Any) -> None:
    """Ask for a change of what is there now, or of what was `seen`."""
    desk.change(read_change(data), seen or desk.book.version)


def divide(desk: Desk, page: int, seen: str = "") -> None:
    """Divide the first panel of a page."""
    change(desk, seen, do="divide", page=page, panel=1, axis="down")


def test_undo_gives_the_same_bytes(desk: Desk) -> None:
    """Undone step by step the file is what it was, redone what it became, each to the byte."""
    texts = [desk.path.read_bytes()]
    divide(desk, 0)
    texts.append(desk.path.read_bytes())
    change(desk, do="move", page=0, to=1)
    texts.append(desk.path.read_bytes())
    assert len({*texts}) == 3
    for text in reversed(texts[:-1]):
        desk.step(-1, desk.book.version)
        assert desk.path.read_bytes() == text
    assert not desk.can_undo
    for text in texts[1:]:
        desk.step(1, desk.book.version)
        assert desk.path.read_bytes() == text
    assert not desk.can_redo


def test_two_people_on_different_pages(desk: Desk) -> None:
    """Changes of different pages made at the same time are both there; of one page the second is
    told, and nothing is lost.
    """
    seen = desk.book.version
    divide(desk, 0, seen)
    divide(desk, 1, seen)
    assert desk.book.pages == [
        {"tiers": [{"columns": [2, 1]}, 1]},
        {"tiers": [{"columns": [2, 1, 1]}, 1]},
    ]
    before = desk.path.read_bytes()
    for page, version in ((1, seen), (0, "unknown")):
        with pytest.raises(StaleError):
            divide(desk, page, version)
    with pytest.raises(StaleError):
        change(desk, seen, do="move", page=0, to=1)
    with pytest.raises(StaleError):
        desk.step(-1, seen)
    assert desk.path.read_bytes() == before


def test_an_editor_changes_the_file_meanwhile(desk: Desk) -> None:
    """What an editor saved is kept where another page is changed, and can be undone like all."""
    seen = desk.book.version
    edited = TEXT.replace("[3, 1]", "[4, 1]  # by hand")
    desk.path.write_text(edited, "utf-8")
    divide(desk, 0, seen)
    text = desk.path.read_text("utf-8")
    assert "[4, 1]  # by hand" in text
    assert "columns" in text
    desk.step(-1, desk.book.version)
    assert desk.path.read_text("utf-8") == edited
    desk.step(-1, desk.book.version)
    assert desk.path.read_text("utf-8") == TEXT


def test_marks_and_line_breaks_stay(tmp_path: Path) -> None:
    """A byte order mark and the line breaks of Windows are as they were after a change."""
    path = tmp_path / "book.toml"
    path.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
    desk = Desk(path, shipped())
    divide(desk, 0)
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf#")
    assert data.count(b"\n") == data.count(b"\r\n") == TEXT.count("\n")


@pytest.mark.parametrize("step", ["open", "fsync", "replace"])
def test_death_while_saving(desk: Desk, step: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever step of saving fails, the file is the old one, and what failed is told."""

    def fail(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    if step == "open":
        monkeypatch.setattr(issue_file, "write_whole", fail)
    elif step == "fsync":
        monkeypatch.setattr("os.fsync", fail)
    else:
        monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(UnsavedError, match="No space left") as kept:
        divide(desk, 0)
    assert "columns" in kept.value.text
    assert desk.path.read_text("utf-8") == TEXT
    assert [file.name for file in desk.path.parent.iterdir()] == [desk.path.name]


def test_a_file_that_is_read_only(desk: Desk) -> None:
    """A file that is read-only is not replaced, not even where its folder allows it."""
    desk.path.chmod(0o444)
    with pytest.raises(UnsavedError, match="this file is read-only") as kept:
        divide(desk, 0)
    assert "columns" in kept.value.text
    assert desk.path.read_text("utf-8") == TEXT


def test_a_file_that_is_gone(desk: Desk) -> None:
    """A change of a file that is gone is refused, and no file is made."""
    desk.path.unlink()
    with pytest.raises(UnsavedError, match="there is no such file") as kept:
        divide(desk, 0)
    assert kept.value.text == TEXT
    assert [*desk.path.parent.iterdir()] == []


@pytest.mark.parametrize(
    ("text", "line", "pages"),
    [
        (TEXT.replace("[3, 1]", "[3, 1"), 9, 0),
        (TEXT.replace("[3, 1]", '[3, "nothing"]'), 9, 2),
        (TEXT.replace("[3, 1]", "[3, 1]\nfoo = 1"), 10, 2),
        (TEXT.replace("us-comic", "no-such-format"), 3, 0),
        (TEXT.replace("[3, 1]", '[3, 1]\ngutter = "90 mm"'), 9, 2),
        (TEXT.replace("[[pages]]   #", 'direction = "up"\n[[pages]]   #'), 5, 2),
    ],
)
def test_mistakes_are_told_at_their_line(tmp_path: Path, text: str, line: int, pages: int) -> None:
    """A broken file opens with its mistake and the line of it; sound pages are there and work."""
    path = tmp_path / "book.toml"
    path.write_text(text, "utf-8")
    desk = Desk(path, shipped())
    data = book_data(desk)
    assert len(data["pages"]) == pages
    assert [problem["line"] for problem in data["problems"]] == [line]
    if pages:
        divide(desk, 0)
        assert page_data(desk.book, 0)["text"].endswith("tiers = [{ columns = [2, 1] }, 1]\n")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (TEXT.replace("[3, 1]", "[3, 1"), "line 9: a list that is opened here"),
        (f"pages = 3\n{HEAD}", "line 1, pages: 3 is not a list"),
        (TEXT.replace("us-comic", "no-such-format"), "no-such-format"),
    ],
)
def test_a_file_that_cannot_be_read_is_left_alone(tmp_path: Path, text: str, said: str) -> None:
    """A window that is still open over a broken file changes nothing in it, and is told why."""
    path = tmp_path / "book.toml"
    path.write_text(text, "utf-8")
    desk = Desk(path, shipped())
    for data in (
        {"do": "issue", "key": ["title"], "value": "Another"},
        {"do": "add", "behind": 0},
        {"do": "delete", "page": 0},
        {"do": "move", "page": 0, "to": 0},
        {"do": "apart", "page": 0, "nth": 0},
    ):
        with pytest.raises(InputError, match=said):
            change(desk, **data)
    with pytest.raises(InputError, match="no such page"):
        shelf_data(desk.book, 0, None)
    assert path.read_text("utf-8") == text


def test_a_change_that_would_break_the_issue_is_refused(desk: Desk) -> None:
    """What the issue could not be built with is refused, and the file stays as it was."""
    for key, value in ((["gutter"], "90 in"), (["tiers"], []), (["foo"], 1), (["count"], 0)):
        with pytest.raises(InputError):
            change(desk, do="put", page=0, key=key, value=value)
    with pytest.raises(InputError, match="no-such-format"):
        change(desk, do="issue", key=["preset"], value="no-such-format")
    with pytest.raises(InputError, match="parts with"):
        change(desk, do="issue", key=["format", "gutter"], value="3.2 in")
    for copy_it in (True, False):
        with pytest.raises(InputError, match="no such page"):
            change(desk, do="add", behind=9, copy_it=copy_it)
    assert desk.path.read_text("utf-8") == TEXT


@pytest.mark.parametrize(
    ("preset", "page"),
    [
        ("vertical-scroll", 'scroll = [{ ratio = "3:2" }]'),
        ("us-comic", "spread = true\ntiers = [2]\non_left = { tiers = [1, 3] }"),
    ],
)
def test_a_layout_in_place_of_what_is_changed_in_the_file(
    preset: str, page: str, tmp_path: Path
) -> None:
    """A scroll, and a spread with a page filled anew, are shown, and a layout takes their place."""
    path = tmp_path / "kettle-moth.toml"
    head = HEAD.replace("us-comic", preset)
    first = '[[pages]]\npanels = "splash"\n'
    path.write_text(f"{head}\n{first}[[pages]]\n{page}\n")
    desk = Desk(path, shipped())
    assert not page_data(desk.book, 1)["shaped"]
    change(desk, do="layout", page=1, name="six-grid")
    text = path.read_text()
    assert 'panels = "six-grid"' in text
    assert "tiers = [2]" not in text
    assert "scroll = [" not in text
    assert len(desk.book.pages) == 2
