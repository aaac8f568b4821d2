"""Plug-ins that are slow, print, or change what is around them."""

import os
import re
from pathlib import Path
from signal import SIGINT
from subprocess import PIPE, Popen
from threading import Event
from time import sleep

import pytest
from support.guests import DOT, GUIDE, TEXT, WITH_GUIDE, WRITER, refused, run
from support.long import shortened
from support.plugin_files import installed_plugin, path_with
from support.programs import HANG, ordinary_signals
from support.samples import (
    command,
    contents,
    environment,
    events_of,
    issue_file,
)

from guidekit.cli.stopping import Stopped
from guidekit.patience import within
from guidekit.plugins import load
from guidekit.plugins.installed import BroughtPart, Plugin

WAIT = "import threading; threading.Event().wait()"
LATE = f"endless.set(); {WAIT}"
LOOP = "endless.set()\n    while True: pass"
ENDLESS = {
    "an import": (LATE, WRITER.format(write=TEXT), "cannot be loaded"),
    "a guide": (GUIDE.format(draw=LATE), WRITER.format(write=TEXT), "fails on page 1"),
    "a loop": (GUIDE.format(draw=LOOP), WRITER.format(write=TEXT), "fails on page 1"),
    "a format": (GUIDE.format(draw=DOT), WRITER.format(write=LATE), "fails on cards-p001"),
    "a format that is made": (
        GUIDE.format(draw=DOT),
        f"{WRITER.format(write=TEXT)}\n    def __init__(self):\n        {LATE}\n",
        "cannot be made",
    ),
}
#: Patience of a tenth of a second, which is counted from when what does not end has begun.
IMPATIENT = """
import builtins, threading
import guidekit.patience as patience, guidekit.plugins.load as load
load.PATIENCE = load.SOON = 0.1
builtins.endless = threading.Event()

class Thread(threading.Thread):
    def join(self, timeout=None):
        while self.is_alive() and not builtins.endless.is_set():
            super().join(0.01)
        super().join(timeout)

patience.Thread = Thread
"""


@pytest.mark.parametrize("name", shortened(ENDLESS, ["an import", "a loop", "a format"]))
def test_one_that_does_not_end(tmp_path: Path, name: str) -> None:
    """Whatever of a plug-in never ends is told while it is at work, and ended, by name."""
    guide, writer, said = ENDLESS[name]
    site = tmp_path / "site"
    parts = {"guides": "guest = guests:guest", "writers": "guest = guests:Guest"}
    code = f"import guidekit.plugins.load as load\n{guide}\n{writer}"
    installed_plugin(site, "guests", code, **parts)
    (site / "sitecustomize.py").write_text(IMPATIENT, "utf-8")
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
            sleep(0.01)
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
