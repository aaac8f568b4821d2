"""Plug-ins that are sound, broken, slow and hostile, through the command line."""

import json
import os
import re
from pathlib import Path
from signal import SIGINT
from subprocess import PIPE, Popen
from threading import Event

import pytest
from support.long import shortened
from support.plugin_files import EXAMPLE, installed_plugin, path_with, told_by
from support.programs import HANG, ordinary_signals
from support.samples import (
    Run,
    command,
    contents,
    environment,
    events_of,
    issue_file,
    run_process,
)

from guidekit.cli.stopping import Stopped
from guidekit.patience import within
from guidekit.plugins import load
from guidekit.plugins.installed import BroughtPart, Plugin

ISSUE = 'title = "Cards"\npreset = "square"\n[[pages]]\npanels = "splash"\n'
WITH_GUIDE = ISSUE + 'guides = { guest = "shown" }\n'
GUIDE = """
import math, sys, time
from guidekit.plugins.contract import *
def draw(seen):
    {draw}
guest = Guide(145, "guest", "Guest", "off", (1, 2, 3), 100, draw)
"""
WRITER = """
from guidekit.plugins.contract import *
class Guest:
    name = "guest"
    def limits(self, dpi):
        return Limits(1_000_000)
    def write(self, stack):
        {write}
"""
DOT = "yield Rule(Box(9, 9, 20, 20))"
TEXT = 'yield Output(f"{stack.file_name}.txt", [b"x"])'


def run(site: Path, *arguments: object, **environ: str) -> Run:
    """The command line in a process that has what lies in `site` installed."""
    return run_process(arguments, site.parent, PYTHONPATH=path_with(site), **environ)


def refused(site: Path, text: str = WITH_GUIDE, formats: str = "svg") -> str:
    """What is said of an issue that needs what does not work: exit code 2, nothing written."""
    issue = issue_file(site.parent, text)
    done = run(site, "build", issue, "--out", site.parent / "out", "--format", formats)
    assert (done.code, done.out) == (2, ""), done
    assert "Traceback" not in done.err
    assert not (site.parent / "out").exists()
    return done.err


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


WAIT = "import threading; threading.Event().wait()"
ENDLESS = {
    "an import": (WAIT, WRITER.format(write=TEXT), "cannot be loaded"),
    "a guide": (GUIDE.format(draw=WAIT), WRITER.format(write=TEXT), "fails on page 1"),
    "a loop": (GUIDE.format(draw="while True: pass"), WRITER.format(write=TEXT), "fails on page 1"),
    "a format": (GUIDE.format(draw=DOT), WRITER.format(write=WAIT), "fails on cards-p001"),
    "a format that is made": (
        GUIDE.format(draw=DOT),
        f"{WRITER.format(write=TEXT)}\n    def __init__(self):\n        {WAIT}\n",
        "cannot be made",
    ),
}


@pytest.mark.parametrize(("guide", "writer", "said"), ENDLESS.values(), ids=ENDLESS)
def test_one_that_does_not_end(tmp_path: Path, guide: str, writer: str, said: str) -> None:
    """Whatever of a plug-in never ends is told while it is at work, and ended, by name."""
    site = tmp_path / "site"
    parts = {"guides": "guest = guests:guest", "writers": "guest = guests:Guest"}
    code = f"import guidekit.plugins.load as load\n{guide}\n{writer}"
    installed_plugin(site, "guests", code, **parts)
    patient = "import guidekit.plugins.load as load\nload.PATIENCE = load.SOON = 0.1\n"
    (site / "sitecustomize.py").write_text(patient, "utf-8")
    told = refused(site, WITH_GUIDE, "guest")
    assert " of the plug-in guests 1.0 takes more than 0.1 s, and is ended after 0.1 s." in told
    assert f"of the plug-in guests 1.0 {said}: no answer within 0.1 seconds. Mend the" in told


def test_what_is_late_ends() -> None:
    """What runs in Python is ended in its thread, too, when it is late."""
    ended = Event()

    def endless() -> None:
        try:
            while True:
                pass
        finally:
            ended.set()

    with pytest.raises(TimeoutError, match=r"no answer within 0\.01 seconds"):
        within(0.01, endless)
    assert ended.wait(HANG)


@pytest.mark.skipif(os.name != "posix", reason="signals are sent to a process here")
def test_ctrl_c_while_one_waits(tmp_path: Path) -> None:
    """Ctrl-C ends a build at once while a plug-in waits for what never comes."""
    site = tmp_path / "site"
    began = tmp_path / "began"
    code = GUIDE.format(draw=f"open({str(began)!r}, 'w').close(); {WAIT}")
    installed_plugin(site, "guests", code, guides="guest = guests:guest")
    call = command("build", issue_file(tmp_path, WITH_GUIDE), "--out", tmp_path / "out")
    env = environment(PYTHONPATH=path_with(site))
    with Popen(call, env=env, stderr=PIPE, preexec_fn=ordinary_signals) as process:
        while not began.exists():
            assert process.poll() is None
        process.send_signal(SIGINT)
        _, err = process.communicate(timeout=HANG)
    assert process.returncode == -SIGINT
    assert err.endswith(b"guidekit: stopped. Run it again to go on.\n")
    assert not (tmp_path / "out").exists()


PRINTS = 'os.write(1, b"raw"); print("word"); subprocess.run(["echo", "said"]); '


def test_one_that_prints(tmp_path: Path) -> None:
    """What a plug-in and the programs that it starts print stays out of the lines for scripts."""
    site = tmp_path / "site"
    code = f"import os, subprocess\n{GUIDE.format(draw=PRINTS + DOT)}"
    installed_plugin(site, "guests", code, guides="guest = guests:guest")
    issue = issue_file(tmp_path, WITH_GUIDE)
    done = run(site, "build", issue, "--out", tmp_path / "out", "--format", "svg", "--json")
    assert done.code == 0
    assert events_of(done, "finished")
    assert {"raw", "word", "said"} <= {*re.findall("raw|word|said", done.err)}


STEERS = """
import os
os.chdir("/"); os.environ.clear(); os.environ["HOME"] = "/nowhere"
"""


def test_one_that_goes_elsewhere(tmp_path: Path) -> None:
    """A plug-in that changes the folder it works in and the environment changes no path of ours."""
    site = tmp_path / "site"
    code = STEERS + GUIDE.format(draw='os.chdir("/"); ' + DOT)
    installed_plugin(site, "guests", code, guides="guest = guests:guest")
    issue_file(tmp_path, WITH_GUIDE, "cards.toml")
    done = run(site, "build", "cards.toml", "--out", "out", "--format", "svg")
    assert (done.code, done.err) == (0, "")
    assert {*contents(tmp_path / "out")} == {".guidekit.json", "cards-p001.svg"}


def test_a_request_to_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while a plug-in is loaded ends the program, and is no fault of the plug-in."""

    def stopped(*_: object) -> None:
        raise Stopped(2)

    monkeypatch.setattr(load, "within", stopped)
    part = BroughtPart("guides", "guest", "guests:guest")
    with pytest.raises(Stopped):
        load.loaded(Plugin("guests", "1.0", "A guest.", (part,)), part)


def test_the_list(tmp_path: Path) -> None:
    """Each plug-in is listed with what it brings; the broken part tells why, the others load."""
    site = tmp_path / "site"
    code = "print('hello')\n" + WRITER.format(write=TEXT)
    parts = {"guides": "gone = guests:gone", "writers": "guest = guests:Guest"}
    installed_plugin(site, "guests", code, presets="guests = guests.data", **parts)
    done = run(site, "plugins", "list", "--json")
    assert (done.code, done.err) == (2, "hello\n")
    (row,) = json.loads(done.out)["plugins"]
    assert (row["name"], row["version"], row["allowed"]) == ("guests", "1.0", True)
    told = {part["name"]: part.get("problem", "") for part in row["parts"]}
    assert "no folder guests.data" in told["guests"]
    assert "AttributeError" in told["gone"]
    assert told["guest"] == ""
    assert run(site, "plugins", "list").out.startswith("guests 1.0: A guest.\n  preset  guests")


def test_only_those_in_the_settings(tmp_path: Path) -> None:
    """Where the settings list plug-ins, no other is loaded; what it brings is not there."""
    site, config = tmp_path / "site", tmp_path / "config" / "guidekit"
    code = "raise SystemError('I was run')"
    installed_plugin(site, "guests", code, guides="guest = guests:guest")
    config.mkdir(parents=True)
    (config / "config.toml").write_text('plugins = ["others"]\n', "utf-8")
    issue = issue_file(tmp_path, WITH_GUIDE)
    done = run(site, "check", issue, XDG_CONFIG_HOME=str(tmp_path / "config"))
    assert done.code == 2
    assert 'there is no guide "guest"' in done.err
    listed = run(site, "plugins", "list", XDG_CONFIG_HOME=str(tmp_path / "config"))
    assert "the settings do not name it" in listed.out


def test_lists_load_none(tmp_path: Path) -> None:
    """Presets, layouts and formats of plug-ins are listed and none of their code is run."""
    site = tmp_path / "site"
    text = (EXAMPLE / "pyproject.toml").read_text("utf-8")
    (site / "postcards").mkdir(parents=True)
    for folder in ("presets", "layouts"):
        (site / "postcards" / folder).symlink_to(EXAMPLE / "postcards" / folder)
    (site / "postcards" / "__init__.py").write_text("raise SystemError('I was run')", "utf-8")
    points = text.partition("[project.entry-points.")[2].replace("[project.entry-points.", "[")
    told_by(site, "postcards", "1.0", f"[{points}".replace('"', "").partition("[tool")[0])
    assert "148 × 105 mm" in run(site, "presets", "list").out
    assert "(postcards 1.0)" in run(site, "presets", "list").out
    assert "postcards-pair" in run(site, "layouts", "list", "--panels", "3").out
    assert "postcards-list" in run(site, "formats").out
    shown = run(site, "presets", "show", "postcards")
    assert (shown.code, shown.err) == (0, "")


def test_a_new_one(tmp_path: Path) -> None:
    """What `plugins new` writes is the example under another name; nothing there is touched."""
    done = run_process(["plugins", "new", "ink_tools"], tmp_path)
    assert (done.code, done.err) == (0, "")
    same = tmp_path / "postcards"
    assert run_process(["plugins", "new", "postcards"], tmp_path).code == 0
    ours = contents(EXAMPLE)
    assert contents(same) == {name: ours[name] for name in contents(same)}
    kinds = (".py", ".toml", ".md")
    assert {*contents(same)} == {name for name in ours if name.endswith(kinds)}
    before = contents(tmp_path)
    for wrong in ("ink_tools", "Ink", "ink-tools", "import", "json", "guidekit", "../x"):
        done = run_process(["plugins", "new", wrong], tmp_path)
        assert (done.code, done.out) == (2, "")
    assert contents(tmp_path) == before


def test_an_entry_point_without_a_place(tmp_path: Path) -> None:
    """A package whose entry points cannot be read brings nothing, and stops nothing."""
    site = tmp_path / "site"
    told_by(site, "broken", "2.0", "[guidekit.guides]\ncorners\n")
    assert run(site, "formats").code == 0
    told = "broken 2.0: This package is not whole: an entry point has no =.\n"
    assert run(site, "plugins", "list").out == told


def test_half_an_installation(tmp_path: Path) -> None:
    """A package whose own words cannot be read brings nothing, is listed, and harms no other."""
    site = tmp_path / "site"
    installed_plugin(site, "guests", GUIDE.format(draw=DOT), guides="guest = guests:guest")
    told_by(site, "broken", "2.0", "[guidekit.guides]\nx = broken:x\n")
    (site / "broken-2.0.dist-info" / "entry_points.txt").write_bytes(b"[guidekit.guides]\n\xff")
    done = run(site, "plugins")
    assert (done.code, done.err) == (0, "")
    first, second, *_ = done.out.splitlines()
    assert first.startswith("broken 2.0: This package is not whole: ")
    assert second == "guests 1.0: A guest."
    issue = issue_file(tmp_path, WITH_GUIDE)
    assert run(site, "check", issue).code == 0
