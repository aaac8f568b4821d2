"""The record is true after any death: no blank page is taken for a drawing, no drawing is lost."""

import os
import random
import shutil
import sys
from pathlib import Path

import pytest
from support.samples import JOURNAL, RECORD, contents
from support.small_builds import DRY, data_of, dies_at, in_child, killed, put_all

from guidekit.store.journal import JournalLine, replayed
from guidekit.store.record import RECORD_PART, FileEntry

FEW = ("p1", "deep/p2")
MANY = tuple(f"p{number:02}" for number in range(25))


def assert_true(out: Path, version: int, canvases: tuple[str, ...]) -> None:
    """No file is half of itself, and all of them may be replaced, for nobody drew on them."""
    for canvas in canvases:
        if (out / canvas).exists():
            data = (out / canvas).read_bytes()
            assert data in (data_of(version, canvas), data_of(version - 1, canvas))
    assert put_all(out, version + 1, canvases, DRY) == dict.fromkeys(canvases, "written")


def assert_drawings_stay(out: Path, version: int) -> None:
    """What is drawn on all that is there stays, and counts as "drawn" on no older format."""
    there = [canvas for canvas in FEW if (out / canvas).exists()]
    old = [c for c in there if (out / c).read_bytes() == data_of(version - 1, c)]
    for canvas in there:
        with (out / canvas).open("ab") as file:
            file.write(b"art")
    before = contents(out)
    outcomes = put_all(out, version, FEW)
    assert {outcomes[canvas] for canvas in there} <= {"drawn", "kept"}
    assert {outcomes[canvas] for canvas in old} <= {"kept"}
    assert {canvas: contents(out)[canvas] for canvas in there} == {c: before[c] for c in there}


@pytest.mark.parametrize("first", [True, False], ids=["new folder", "second build"])
def test_death_at_every_step(tmp_path: Path, first: bool) -> None:
    """Whichever step a build dies before, the record is true, and the next build leaves no rest.

    What somebody draws on a page after that death stays as well.
    """
    for step in range(1, 100):
        out, copy = tmp_path / f"{step}" / "out", tmp_path / f"{step}" / "copy"
        out.parent.mkdir()
        if not first:
            put_all(out, 1, FEW)
        dead = dies_at(step, out, lambda: put_all(out, 2, FEW))  # noqa: B023
        if out.exists():
            shutil.copytree(out, copy)
            assert_drawings_stay(copy, 2)
            assert_true(out, 2, FEW)
        put_all(out, 3, FEW)
        assert set(contents(out)) == {*FEW, RECORD}
        if not dead:
            break
    assert 15 < step < 99


def test_drawn_on_after_a_late_death(tmp_path: Path) -> None:
    """A build that dies when all is written but the record has told which canvases are there."""
    put_all(tmp_path, 1, FEW)

    def dies_before_the_record() -> None:
        sys.addaudithook(lambda _, given: os._exit(9) if RECORD_PART in str(given) else None)
        put_all(tmp_path, 2, FEW)

    os.waitpid(in_child(dies_before_the_record), 0)
    for canvas in FEW:
        assert (tmp_path / canvas).read_bytes() == data_of(2, canvas)
        (tmp_path / canvas).write_bytes(b"art")
    assert put_all(tmp_path, 2, FEW) == dict.fromkeys(FEW, "drawn")


def test_killed_at_random(tmp_path: Path) -> None:
    """After many kills at random moments every blank page is known, and every drawing is there."""
    moments, out = random.Random(8), tmp_path / "out"
    drawn: dict[str, bytes] = {}
    kills = 0
    for version in range(1, 41):
        before = {c: (out / c).read_bytes() for c in MANY if (out / c).exists()}
        moment = 0.06 * moments.random() ** 2  # more of early ones: a fast disk needs 0.01
        kills += killed(lambda: put_all(out, version, MANY), moment)  # noqa: B023
        blank = [canvas for canvas in MANY if canvas not in drawn]
        for canvas in blank:
            if (out / canvas).exists():
                allowed = (data_of(version, canvas), before.get(canvas))
                assert (out / canvas).read_bytes() in allowed, f"version {version}, {canvas}"
        if version % 10 == 0 and (there := [c for c in blank if (out / c).exists()]):
            canvas = moments.choice(there)
            (out / canvas).write_bytes(b"art on " + (out / canvas).read_bytes())
            drawn[canvas] = (out / canvas).read_bytes()
        outcomes = put_all(out, 1000, MANY, DRY)
        assert {canvas for canvas, what in outcomes.items() if what != "written"} == set(drawn)
        assert {canvas: (out / canvas).read_bytes() for canvas in drawn} == drawn
    assert kills > 10
    put_all(out, 1000, MANY)
    assert {path.name for path in out.iterdir()} == {*MANY, RECORD}


def entry(digest: str) -> FileEntry:
    """An entry with this digest."""
    return FileEntry(digest * 64, "../issue.toml", "p1", "psd", 600)


OLD, NEW = entry("a"), entry("b")
BEGUN, DONE = JournalLine("p1", ".part", NEW), JournalLine("p1")


@pytest.mark.parametrize(
    ("old", "lines", "digest", "result"),
    [
        (OLD, [BEGUN], OLD.sha256, OLD),
        (OLD, [BEGUN], NEW.sha256, NEW),
        (OLD, [BEGUN], "drawn", OLD),
        (OLD, [BEGUN], "", OLD),
        (OLD, [BEGUN, DONE], NEW.sha256, NEW),
        (OLD, [BEGUN, DONE], "drawn", NEW),
        (OLD, [BEGUN, DONE], OLD.sha256, OLD),
        (None, [BEGUN], NEW.sha256, NEW),
        (None, [BEGUN], "drawn", None),
        (None, [BEGUN, DONE], "drawn", NEW),
        (NEW, [BEGUN, DONE], "drawn", NEW),
        (NEW, [BEGUN], NEW.sha256, NEW),
        (OLD, [], "drawn", OLD),
    ],
)
def test_what_the_journal_comes_to(
    old: FileEntry | None, lines: list[JournalLine], digest: str, result: FileEntry | None
) -> None:
    """The record takes what is on the disk, else the canvas that was last certainly there."""
    files = {} if old is None else {"p1": old}
    assert replayed(files, lines, lambda name: digest).get("p1") == result


def test_last_line_cut_off(tmp_path: Path) -> None:
    """A journal whose last line was cut off by the death of the machine is read up to there."""
    out = tmp_path / "out"
    dies_at(12, out, lambda: put_all(out, 1, FEW))
    whole = (out / JOURNAL).read_bytes()
    assert whole.count(b"\n") >= 1
    (out / JOURNAL).write_bytes(whole + b'{"file": "p')
    assert_true(out, 1, FEW)
    put_all(out, 2, FEW)
    assert not (out / JOURNAL).exists()
