"""Files of pages that move: shown first, moved with their pages, and all of it undone."""

from pathlib import Path
from typing import Any

import pytest
from support.planner import SMALL_HEAD, change_agreed, step_agreed

from guidekit import build_issue
from guidekit.drawn.moving import renaming
from guidekit.errors import InputError, MachineError
from guidekit.planner import desk as desks
from guidekit.planner.changes import read_change
from guidekit.planner.desk import Desk, UnsavedError
from guidekit.planner.issue_file import StaleError
from guidekit.planner.moving import NotAgreedError, key_of
from guidekit.shipped import shipped

TEXT = f"""\
{SMALL_HEAD}
[[pages]]
panels = "splash"

[[pages]]   # the stairs
tiers = [2, 1]
panel.3.border = false

[[pages]]
tiers = [3, 1]

[[pages]]
count = 3
panels = "six-grid"
"""
NAME = "kettle-moth"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk with an issue of six pages that were made; two of them are drawn on."""
    path = tmp_path / f"{NAME}.toml"
    path.write_text(TEXT, "utf-8")
    folder = build_issue(path, formats=["png-small"]).folder
    (folder / f"{NAME}-p002-small.png").write_bytes(b"drawn on")
    (folder / f"{NAME}-p003.sketch").write_bytes(b"an app's own file")
    return Desk(path, shipped())


def files(desk: Desk) -> dict[str, bytes]:
    """What lies in the folder of the pages, by name."""
    folder = desk.path.parent / NAME
    found = {path.relative_to(folder).as_posix(): path for path in folder.rglob(f"{NAME}*")}
    return {name: path.read_bytes() for name, path in found.items() if path.is_file()}


def test_nothing_is_done_before_it_is_agreed_to(desk: Desk) -> None:
    """The plan names every file and page that moves; until it is agreed to, all stays as it is."""
    before = files(desk)
    for agreed in ("", "another"):
        wish = read_change({"do": "move", "page": 1, "to": 2})
        with pytest.raises(NotAgreedError) as refused:
            desk.change(wish, desk.book.version, agreed)
        assert sorted(refused.value.plan.files) == [
            (f"{NAME}-p002-small.png", f"{NAME}-p003-small.png"),
            (f"{NAME}-p003-small.png", f"{NAME}-p002-small.png"),
            (f"{NAME}-p003.sketch", f"{NAME}-p002.sketch"),
        ]
        assert any("not" in told and "2" in told for told in refused.value.plan.told)
    assert (files(desk), desk.path.read_text("utf-8")) == (before, TEXT)
    assert not desk.can_undo


def test_files_go_with_their_pages_and_come_back(desk: Desk) -> None:
    """After any changes of which pages there are each file is that of its page; undone step by
    step, and done again, every name has the very bytes that it had.
    """
    changes: list[dict[str, Any]] = [
        {"do": "move", "page": 1, "to": 2},
        {"do": "add", "behind": 0},
        {"do": "put", "page": 4, "key": ["count"], "value": 2},
        {"do": "delete", "page": 2},
        {"do": "apart", "page": 3, "nth": 1},
        {"do": "add", "behind": 1, "copy_it": True},
        {"do": "put", "page": 0, "key": ["note"], "value": "no page moves"},
    ]
    states = [(desk.path.read_bytes(), files(desk))]
    for change in changes:
        change_agreed(desk, change)
        states.append((desk.path.read_bytes(), files(desk)))
    assert states[1][1][f"{NAME}-p003-small.png"] == b"drawn on"
    assert states[2][1][f"{NAME}-p004-small.png"] == b"drawn on"
    assert len({text for text, _ in states}) == len(states)
    for by, wanted in [(-1, state) for state in states[-2::-1]] + [(1, s) for s in states[1:]]:
        step_agreed(desk, by)
        assert (desk.path.read_bytes(), files(desk)) == wanted


def test_a_page_that_was_taken_out_and_its_drawing(desk: Desk) -> None:
    """What is drawn on a page that is taken out is kept, and is back when that is undone."""
    change_agreed(desk, {"do": "delete", "page": 1})
    assert files(desk)[f"removed/{NAME}-p002-small.png"] == b"drawn on"
    step_agreed(desk, -1)
    assert files(desk)[f"{NAME}-p002-small.png"] == b"drawn on"


def test_two_facing_pages_become_a_spread(desk: Desk) -> None:
    """A spread of two pages has their panels, each where it was on its page; and it can be two
    pages again.
    """
    left, right = desk.book.sheet(1), desk.book.sheet(2)
    change_agreed(desk, {"do": "merge", "page": 1})
    spread = desk.book.sheet(1)
    shift = spread.canvas.boxes.pages[1].trim.left - right.canvas.boxes.trim.left
    there = [panel.box.as_list() for panel in left.canvas.panels]
    there += [
        [box.left + shift, box.top, box.right + shift, box.bottom]
        for box in (panel.box for panel in right.canvas.panels)
    ]
    assert [panel.box.as_list() for panel in spread.canvas.panels] == there
    assert [panel.number for panel in spread.canvas.panels if not panel.border] == [3]
    with pytest.raises(InputError, match="single panels"):
        change_agreed(desk, {"do": "halve", "page": 1})
    change_agreed(desk, {"do": "put", "page": 1, "key": ["panel"], "value": None})
    change_agreed(desk, {"do": "halve", "page": 1})
    assert desk.book.pages[1:3] == [{"tiers": [2, 1]}, {"tiers": [3, 1]}]
    for wrong in ({"do": "merge", "page": 0}, {"do": "merge", "page": 3}):
        with pytest.raises(InputError):
            change_agreed(desk, wrong)


def test_moved_where_guides_failed(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages of a file with the line ends of Windows are moved also where their guides fail."""

    def fails(*_: object, **__: object) -> None:
        raise MachineError("no guides today")

    desk.path.write_bytes(TEXT.replace("\n", "\r\n").encode())
    desk = Desk(desk.path, shipped())
    monkeypatch.setattr(renaming, "refresh_issue", fails)
    change_agreed(desk, {"do": "move", "page": 1, "to": 2})
    assert files(desk)[f"{NAME}-p003-small.png"] == b"drawn on"
    assert desk.book.text.encode() == desk.path.read_bytes()


@pytest.mark.parametrize(
    ("step", "refused"), [("text_after", StaleError), ("move_files", UnsavedError)]
)
def test_an_editor_saves_while_files_move(
    desk: Desk, step: str, refused: type[Exception], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What an editor saved at that very moment stays, and no file gets another name."""
    before, edited = files(desk), TEXT.replace("[3, 1]", "[4, 1]")
    real = getattr(desks, step)

    def while_it_saves(*given: Any) -> Any:
        desk.path.write_text(edited, "utf-8")
        return real(*given)

    wish = read_change({"do": "move", "page": 1, "to": 2})
    with pytest.raises(NotAgreedError) as shown:
        desk.change(wish, desk.book.version)
    monkeypatch.setattr(desks, step, while_it_saves)
    with pytest.raises(refused):
        desk.change(wish, desk.book.version, key_of(shown.value.plan))
    assert (files(desk), desk.path.read_text("utf-8")) == (before, edited)
