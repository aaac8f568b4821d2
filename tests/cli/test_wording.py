"""The library says what Python calls things, the command line what one types."""

import ast
import re
from inspect import signature
from pathlib import Path

import pytest
from support.samples import REPOSITORY

from guidekit.cli.say import COMMANDS, Typed
from guidekit.errors import InputError
from guidekit.studio.catalogue import studio
from guidekit.studio.lock import lock_issue
from guidekit.studio.lock_model import read_lock
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
    assert {*COMMANDS} == {lock_issue.__name__, studio.__name__}
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
