"""New files handed over, with a Ctrl-C at each line of that in turn: in a process of its own.

``python stopped_lines.py FOLDER STRIDE SECONDS``: at every line, or every so many, and a bare step
of the main thread counts as one, in the library too. It prints at how many. If it stands still for
so many seconds, it prints where all threads are and ends with exit code 1.
"""

import concurrent.futures._base
import concurrent.futures.thread
import contextlib
import faulthandler
import shutil
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from hashlib import sha256
from io import BufferedReader
from pathlib import Path
from types import FrameType, ModuleType
from typing import Any, BinaryIO, ClassVar

from guidekit import stops, threads
from guidekit.drawn.refreshing import new_file, refresh
from guidekit.drawn.refreshing.new_file import NewFile
from guidekit.drawn.refreshing.refresh_report import Refreshed
from guidekit.drawn.spans.copying import Wanted
from guidekit.geometry.page import PagePlan
from guidekit.layers.prints import whole_info
from guidekit.layers.standard import standard_stack
from guidekit.shipped import FullCatalogue
from guidekit.store.before import Before
from guidekit.store.folder import Store

ISSUE = 'title = "Salt"\npreset = "us-comic"\n[[pages]]\ncount = 2\npanels = "splash"\n'
NAMES = ["salt-p001.psd", "salt-p002.psd"]
OLD, NEW = b"old", b"new, in two parts"
OURS = [refresh, new_file, threads, stops]
LIBRARY = [threading, concurrent.futures.thread, concurrent.futures._base, contextlib]
Trace = Callable[[FrameType, str, Any], Any]


class Written:
    """Work on a file of a few bytes, in the place of a page: a `new_file.Work`."""

    changed, notes = True, list[str]()

    def make(self) -> None:
        """Nothing takes long here."""

    def write(self, file: BinaryIO, made: Callable[[], None], wanted: Wanted) -> None:
        """Half of it is written before the other half is made."""
        file.writelines(piece for piece in wanted([NEW[:4]]) if isinstance(piece, bytes))
        made()
        file.write(NEW[4:])

    def check(self, file: BufferedReader) -> str:
        """Nobody has written to it."""
        return sha256(file.read()).hexdigest()

    def close(self) -> None:
        """Nothing is open."""


class OneFile:
    """In the place of `refresh.OneFile`: each file there is gets new bytes."""

    _infos: ClassVar[dict[str, Any]] = {}  # which take their time, and are the same at each step

    def __init__(
        self, store: Store, before: Before, plan: PagePlan, name: str, known: FullCatalogue
    ):
        self.store, self.before, self.plan, self.name = store, before, plan, name
        if name not in self._infos:
            self._infos[name] = whole_info(standard_stack(plan, known.guides))

    def begun(self, _: object) -> NewFile:
        """A new file to be made."""
        path, info = self.store.folder / self.name, self._infos[self.name]
        with contextlib.ExitStack() as held:
            file = held.enter_context(path.open("rb"))
            done = Refreshed(self.name, self.plan.numbers, "refreshed")
            work, over = Written(), path.stat()
            held = held.pop_all()
            return NewFile(self.store, self.before, work, file, over, info, done, held)


class Steps:
    """The lines of some modules, as the main thread comes to them; at one there is a Ctrl-C."""

    def __init__(self, modules: list[ModuleType], step: int):
        self._files, self._left = {module.__file__ for module in modules}, step
        self.at = ""  # where it was

    def called(self, frame: FrameType, _: str, __: object) -> Trace | None:
        """What traces the lines of a call."""
        return self._line if frame.f_code.co_filename in self._files else None

    def _line(self, frame: FrameType, event: str, _: object) -> Trace:
        self._left -= event == "line"
        if not self._left and not self.at:
            self.at = f"{frame.f_code.co_filename}, line {frame.f_lineno}"
            signal.raise_signal(signal.SIGINT)
        return self._line


def lay_out(folder: Path) -> None:
    """An issue, and the files of its pages."""
    (folder / "out").mkdir(parents=True)
    (folder / "issue.toml").write_text(ISSUE, "utf-8")
    for name in NAMES:
        (folder / "out" / name).write_bytes(OLD)


def refreshed(folder: Path, steps: Steps) -> bool:
    """Refresh the pages of the issue in a folder; True if a Ctrl-C has ended that."""
    sys.settrace(steps.called)
    try:
        refresh.refresh_issue(folder / "issue.toml", folder / "out", pages=[1, 2])
    except KeyboardInterrupt:
        return True
    finally:
        sys.settrace(None)
    return False


def check(folder: Path) -> None:
    """Whole files are there, the old ones as well; no thread is left, and Ctrl-C is as it was."""
    out = folder / "out"
    for name in NAMES:
        there = (out / name).read_bytes()
        assert there in (OLD, NEW), f"half a file: {there!r}"
        kept = out / "before" / name.replace(".psd", ".1.psd")
        assert there == OLD or kept.read_bytes() == OLD
    assert not [*out.rglob("*.part")], "a temporary file is left"
    assert not (out / ".guidekit.lock").exists(), "the folder is locked"
    assert threading.enumerate() == [threading.main_thread()], "a thread is left"
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def tried(folder: Path, stride: int) -> Iterator[str]:
    """Where there was a Ctrl-C, until there is no line any more."""
    lay_out(folder)
    assert not refreshed(folder, Steps([], 0))  # pydantic's models are made ready by now
    shutil.rmtree(folder)
    for step in range(1, 10**6, stride):
        lay_out(folder)
        steps = Steps(OURS + LIBRARY, step)
        try:
            stopped = refreshed(folder, steps)
            check(folder)
            assert stopped == bool(steps.at), "the Ctrl-C was lost"
        except AssertionError as error:
            error.add_note(f"step {step}: {steps.at}")
            raise
        shutil.rmtree(folder)
        if not steps.at:
            break
        yield steps.at


if __name__ == "__main__":
    faulthandler.dump_traceback_later(float(sys.argv[3]), exit=True)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    vars(refresh)["OneFile"] = OneFile
    print(len([*tried(Path(sys.argv[1]) / "stopped", int(sys.argv[2]))]))
