"""The example plug-in as its users have it: a wheel, installed beside ours in a fresh place."""

import json
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest
from support.long import long
from support.plugin_files import EXAMPLE
from support.programs import HANG
from support.samples import REPOSITORY

pytestmark = long  # wheels are made and installed


def done(*call: str | Path, cwd: Path, code: int = 0) -> str:
    """What a process prints that ends with this exit code; it sees no checkout."""
    environ = {name: text for name, text in os.environ.items() if name != "PYTHONPATH"}
    run = subprocess.run(
        [*map(str, call)], cwd=cwd, env=environ, capture_output=True, encoding="utf-8", timeout=HANG
    )
    assert run.returncode == code, run.stdout + run.stderr
    return run.stdout + run.stderr


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A fresh environment with both wheels; libraries it borrows from the one of the tests."""
    home = tmp_path_factory.mktemp("fresh")
    pip = (sys.executable, "-m", "pip", "--disable-pip-version-check")
    for project in (REPOSITORY, EXAMPLE):
        build = (*pip, "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", home / "wheels")
        done(*build, project, cwd=home)
    venv.create(home / "env", with_pip=False)
    python = home / "env" / "bin" / "python"
    site = Path(done(python, "-c", "import site; print(*site.getsitepackages())", cwd=home).strip())
    (site / "borrowed.pth").write_text(sysconfig.get_paths()["purelib"], "utf-8")
    install = (*pip, "--python", python, "install", "-q", "--no-deps", "--no-index")
    for wheel in sorted((home / "wheels").iterdir()):  # whatever the borrowed ones hold of it
        done(*install, "--ignore-installed", wheel, cwd=home)
    return home


def guidekit(home: Path, *arguments: str | Path, code: int = 0) -> str:
    """The installed command line."""
    return done(home / "env" / "bin" / "guidekit", *arguments, cwd=home, code=code)


def test_all_four_are_used(home: Path) -> None:
    """The tests of the example pass as its author runs them: preset, layout, guide and format."""
    python = home / "env" / "bin" / "python"
    out = done(python, "-m", "pytest", "-q", EXAMPLE / "tests", "-p", "no:cacheprovider", cwd=home)
    assert "13 passed" in out


def test_the_list(home: Path) -> None:
    """The plug-in is listed with all that it brings, and all of it loads."""
    told = guidekit(home, "plugins", "list")
    assert told.startswith("postcards 1.0: A page format, a layout, a guide and a file format")
    assert [line.split()[:2] for line in told.splitlines()[1:]] == [
        ["preset", "postcards"],
        ["layout", "postcards-pair"],
        ["guide", "postcards_corners"],
        ["format", "postcards-list"],
    ]


def test_the_lock(home: Path) -> None:
    """A lock holds preset and layout, and names the plug-in that guide and format are from."""
    issue = home / "issue.toml"
    issue.write_bytes((EXAMPLE / "tests" / "issue.toml").read_bytes())
    guidekit(home, "lock", issue, "--format", "postcards-list")
    lock = json.loads((home / "issue.lock.json").read_text("utf-8"))
    source = {"plugin": "postcards", "version": "1.0"}
    assert (lock["guides"], lock["formats"]) == (
        {"postcards_corners": source},
        {"postcards-list": source},
    )
    assert ({*lock["presets"]}, {*lock["layouts"]}) == ({"postcards"}, {"postcards-pair"})
    told = guidekit(home, "--no-plugins", "build", issue, "--format", "postcards-list", code=2)
    assert "Install the plug-in postcards 1.0, which the lock names for it." in told


def test_a_new_plugin_from_the_wheel(home: Path) -> None:
    """An installed guidekit begins a plug-in as well, and its own tests pass as it is written."""
    guidekit(home, "plugins", "new", "ink_tools", "--out", home / "ink_tools")
    (home / "ink").mkdir()
    pip = (sys.executable, "-m", "pip", "--disable-pip-version-check")
    build = (*pip, "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", home / "ink")
    done(*build, home / "ink_tools", cwd=home)
    (wheel,) = (home / "ink").iterdir()
    python = home / "env" / "bin" / "python"
    done(*pip, "--python", python, "install", "-q", "--no-deps", "--no-index", wheel, cwd=home)
    tests = home / "ink_tools" / "tests"
    assert "13 passed" in done(python, "-m", "pytest", "-q", tests, cwd=home)


def test_schemas_are_in_the_wheel(home: Path) -> None:
    """An installed guidekit has the schemas as files, at which an editor can be pointed."""
    where = Path(guidekit(home, "schema", "preset", "--where").strip())
    assert where.is_relative_to(home / "env")
    assert json.loads(where.read_text("utf-8"))["title"] == "guidekit preset"


def test_without_plugins(home: Path) -> None:
    """With --no-plugins nothing of it is there."""
    issue = EXAMPLE / "tests" / "issue.toml"
    told = guidekit(home, "--no-plugins", "check", issue, code=2)
    assert 'there is no preset "postcards"' in told
