"""The library says what Python calls things, the command line what one types."""

import ast
import re
from collections.abc import Iterator
from inspect import signature
from pathlib import Path

import pytest
from support.samples import REPOSITORY
from typer.core import TyperGroup
from typer.main import get_command

from guidekit.cli import app
from guidekit.cli.say import COMMANDS, Typed
from guidekit.drawn.moving.moves import follow_pages
from guidekit.errors import InputError
from guidekit.studio.catalogue import studio
from guidekit.studio.lists.rows import layout_rows
from guidekit.studio.lock.model import read_lock
from guidekit.studio.locking import lock_issue
from guidekit.wording import call, parameter, worded

LIBRARY = [
    path
    for path in sorted((REPOSITORY / "guidekit").rglob("*.py"))
    if path.relative_to(REPOSITORY / "guidekit").parts[0] not in ("cli", "schema")
]


def test_no_option_in_the_library() -> None:
    """No text in the library's code has an option in it; schemas tell of the command line's lines.

    Docstrings count too: what is written for Python needs none.
    """
    found = [
        (path.name, text.lineno)
        for path in LIBRARY
        for text in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(text, ast.Constant) and isinstance(text.value, str)
        if re.search(r"(?<![\w-])--[a-z]", text.value)
    ]
    assert len(LIBRARY) > 200
    assert found == []


#: Words for people who type: comments in files that one begins with, and a page of the planner.
TYPED = {"issue/start.py", "studio/pack_file/card.py", "planner/guard.py"}


def test_no_command_in_the_library() -> None:
    """No text in the library's code names a command of guidekit, but docstrings and comments."""
    group = get_command(app)
    assert isinstance(group, TyperGroup)
    commands = re.compile(rf"\bguidekit ({'|'.join(group.commands)})\b")
    found = {
        path.relative_to(REPOSITORY / "guidekit").as_posix()
        for path in LIBRARY
        for text in _without_docstrings(ast.parse(path.read_text("utf-8")))
        if commands.search(text)
    }
    assert found == TYPED


def _without_docstrings(tree: ast.Module) -> Iterator[str]:
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    docstrings = {
        node.body[0].value
        for node in ast.walk(tree)
        if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Constant)
            and node not in docstrings
            and isinstance(node.value, str)
        ):
            yield node.value


def test_both_wordings() -> None:
    """Each is as its reader writes it, and what is not set any more is forgotten."""
    told = call("lock_issue", "my cards.toml", update=True)
    assert told == "`lock_issue('my cards.toml', update=True)`"
    assert (parameter("out"), parameter("pages", {4})) == ("`out`", "`pages={4}`")
    with worded(Typed()):
        assert call("lock_issue", "my cards.toml") == "guidekit lock 'my cards.toml'"
        assert call("lock_issue", "cards.toml", update=True) == "guidekit lock cards.toml --update"
        assert call("studio", plugins=False) == "guidekit --no-plugins"
        assert (parameter("out"), parameter("pages", {4})) == ("--out", "--pages 4")
    assert call("lock_issue", "my cards.toml", update=True) == told


def test_what_is_named_is_there(tmp_path: Path) -> None:
    """Messages name functions that take what they say, and doing as one of them says helps."""
    assert {*COMMANDS} == {x.__name__ for x in (follow_pages, layout_rows, lock_issue, studio)}
    assert "plugins" in signature(studio).parameters
    issue = tmp_path / "cards.toml"
    text = 'title = "Cards"\npreset = "us-comic"\n[[pages]]\npanels = "splash"\n'
    issue.write_text(text, "utf-8")
    (tmp_path / "cards.lock.json").write_text("{}", "utf-8")
    with pytest.raises(InputError, match=re.escape("`lock_issue('cards.toml', update=True)`")):
        read_lock(issue)
    assert lock_issue(issue, update=True).is_new
    assert not lock_issue(issue).is_new
    assert [*read_lock(issue).presets] == ["us-comic"]
