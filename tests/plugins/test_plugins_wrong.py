"""Plug-ins that do not work, and names and files that are taken, told by name."""

from pathlib import Path

import pytest
from support.guests import DOT, GUIDE, ISSUE, TEXT, WRITER, refused, run
from support.long import shortened
from support.plugin_files import installed_plugin
from support.samples import (
    issue_file,
)

BROKEN_GUIDES = [
    ("import no_such_module", "cannot be loaded: ModuleNotFoundError: No module named"),
    ("import sys; sys.exit(3)", "cannot be loaded: RuntimeError: it ends the program"),
    ("guest = 3", "is int and not a Guide"),
    (GUIDE.format(draw=DOT).replace('"off"', '"shown"'), "is not off where nobody asks"),
    (GUIDE.format(draw=DOT).replace('"guest", "Gu', '"trim", "Gu'), 'calls itself "trim"'),
    (GUIDE.format(draw=DOT).replace(", draw)", ", draw, states=5)"), "cannot be used: TypeE"),
    (GUIDE.format(draw="raise KeyboardInterrupt"), "fails on page 1: RuntimeError: it ends"),
    (GUIDE.format(draw="raise BaseException"), "fails on page 1: BaseException. Mend"),
    (GUIDE.format(draw="return None"), "fails on page 1: TypeError"),
    (GUIDE.format(draw="sys.exit(0)"), "fails on page 1: RuntimeError: it ends the program"),
    (GUIDE.format(draw="1 / 0"), "fails on page 1: ZeroDivisionError"),
    (GUIDE.format(draw='yield "no shape"'), "fails on page 1: WrongError: str is not a shape"),
    (GUIDE.format(draw="yield Rule(Box(-9, -9, -5, -5))"), "Rule lies wholly off the canvas"),
    (GUIDE.format(draw="yield Polygon(((math.nan, 0), (9, 9), (0, 9)))"), "has no place"),
    (GUIDE.format(draw="while True:\n        " + DOT), "more than 100,000 shapes"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "said"), shortened(BROKEN_GUIDES, BROKEN_GUIDES[::3]))
def test_a_guide_that_does_not_work(tmp_path: Path, code: str, said: str) -> None:
    """It is told by package and version where an issue needs it, and nothing is written."""
    installed_plugin(tmp_path / "site", "guests", code, guides="guest = guests:guest")
    told = refused(tmp_path / "site")
    assert 'the guide "guest" of the plug-in guests 1.0' in told
    assert said in told


def test_the_others_do_not_hear_of_it(tmp_path: Path) -> None:
    """An issue that does not need what is broken is built as if it were not there."""
    code = "import no_such_module"
    parts = {"guides": "guest = guests:guest", "writers": "guest = guests:Guest"}
    installed_plugin(tmp_path / "site", "guests", code, presets="guest = guests.no", **parts)
    issue = issue_file(tmp_path, ISSUE)
    done = run(tmp_path / "site", "build", issue, "--format", "svg", "--out", tmp_path / "out")
    assert done.code == 0
    assert done.err.startswith('Warning: the presets "guest" of the plug-in guests 1.0 cannot be f')


BROKEN_WRITERS = [
    ("return ()", "it gives no file"),
    (TEXT.replace('b"x"', ""), "has no bytes"),
    (TEXT.replace('f"{', 'f"../{'), "is no file name"),
    (TEXT.replace('f"{', 'f"/{'), "is no file name"),
    ("raise OSError(28, 'full')", "fails on cards-p001: OSError"),
    (f"{TEXT}; {TEXT}", "two of its files have one name"),
    ("raise SystemExit", "fails on cards-p001: RuntimeError: it ends the program"),
    (
        TEXT + "\n    def limits(self, dpi): return Limits('x')",
        "limits are not whole numbers",
    ),
    (TEXT.replace(".txt", "/a") + f"; {TEXT.replace('.txt', '/a/b')}", "is a file and a folder"),
    (TEXT.replace(".txt", "x" * 250), "is no file name on every system"),
    (TEXT.replace(".txt", "."), "is no file name on every system"),
    ("yield 3", "int is not Output"),
    ("import itertools; yield 'cards-p001.x', itertools.repeat(b'x')", "1,000,000 pieces"),
    (TEXT + "\n    def limits(self, dpi): return 3", "int is not Limits"),
    (TEXT.replace(".txt", "?.txt"), 'has "?", which not every system has in names'),
]


@pytest.mark.parametrize(("write", "said"), shortened(BROKEN_WRITERS, BROKEN_WRITERS[::3]))
def test_a_writer_that_does_not_work(tmp_path: Path, write: str, said: str) -> None:
    """It is told by package and version before anything is written."""
    code = WRITER.format(write=write)
    installed_plugin(tmp_path / "site", "guests", code, writers="guest = guests:Guest")
    told = refused(tmp_path / "site", ISSUE, "svg,guest")
    assert 'the format "guest" of the plug-in guests 1.0' in told
    assert said in told


def test_files_that_are_taken(tmp_path: Path) -> None:
    """Two formats that would write one file are told by name before anything is written."""
    code = WRITER.format(write=TEXT.replace(".txt", ".SVG"))
    installed_plugin(tmp_path / "site", "guests", code, writers="guest = guests:Guest")
    told = refused(tmp_path / "site", ISSUE, "svg,guest")
    assert "--format: the formats svg and guest both write cards-p001.SVG. Build one" in told


def test_names_that_are_taken(tmp_path: Path) -> None:
    """A name of ours, or of two plug-ins, is refused where it is used, with both who have it."""
    site = tmp_path / "site"
    code = GUIDE.format(draw=DOT)
    installed_plugin(site, "one", code, guides="guest = one:guest", writers="svg = one:Svg")
    installed_plugin(site, "two", code, guides="guest = two:guest")
    assert 'two guides "guest", from one 1.0 and from two 1.0' in refused(site, formats="png")
    assert 'two formats "svg", from guidekit and from one 1.0' in refused(site, ISSUE, "svg")
    issue = issue_file(tmp_path, ISSUE)
    done = run(site, "--no-plugins", "build", issue, "--format", "svg", "--out", tmp_path / "out")
    assert (done.code, done.err) == (0, "")
    listed = run(site, "plugins", "list")
    assert listed.code == 2
    assert 'there are two guides "guest", from one 1.0 and from two 1.0. Give one' in listed.out


def test_a_guide_of_ours_is_claimed(tmp_path: Path) -> None:
    """A guide that every page has and a plug-in claims is told by `check` as by `build`."""
    code = GUIDE.format(draw=DOT).replace('"guest", "Guest"', '"trim", "Trim"')
    installed_plugin(tmp_path / "site", "guests", code, guides="trim = guests:guest")
    told = refused(tmp_path / "site", ISSUE)
    assert 'there are two guides "trim", from guidekit and from guests 1.0' in told
    assert run(tmp_path / "site", "check", issue_file(tmp_path, ISSUE)).err == told
    listed = run(tmp_path / "site", "plugins", "list").out
    assert 'there are two guides "trim", from guidekit and from guests 1.0. Give one' in listed
