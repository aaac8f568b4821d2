"""Large libraries are loaded on a stack of their own."""

import sys
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from threading import Thread
from types import ModuleType

import pytest

from guidekit.loading import load

NAME = "a_module_that_counts"
CODE = """
import sys
frame, depth = sys._getframe(), 0
while frame := frame.f_back:
    depth += 1
"""


@pytest.fixture(autouse=True)
def module(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A module that says below how many frames it was loaded; it is not loaded yet."""
    (tmp_path / f"{NAME}.py").write_text(CODE, "utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    yield
    sys.modules.pop(NAME, None)


def depth(loader: Callable[[str], ModuleType], below: int) -> int:
    """The frames below which the module is loaded by one who stands so many further down."""
    if below:
        return depth(loader, below - 1)
    found: int = loader(NAME).depth
    del sys.modules[NAME]
    return found


def test_loaded_from_anywhere() -> None:
    """How deep the one stands who asks for a module does not matter to how it is loaded."""
    assert depth(load, 50) == depth(load, 0) < depth(import_module, 0)
    assert depth(import_module, 50) == depth(import_module, 0) + 50


def test_loaded_once() -> None:
    """A module that is there is not loaded again."""
    assert load(NAME) is load(NAME) is sys.modules[NAME]


def test_no_more_threads(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system gives no thread, a module is loaded all the same."""

    def start(self: Thread) -> None:
        raise RuntimeError("can't start new thread")

    monkeypatch.setattr(Thread, "start", start)
    assert depth(load, 0) >= depth(import_module, 0)


def test_what_cannot_be_loaded() -> None:
    """What goes wrong while a module is loaded comes to the one who asked for it."""
    with pytest.raises(ModuleNotFoundError, match="no_such_module"):
        load("no_such_module")
