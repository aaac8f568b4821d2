"""What the README shows can be typed as it stands: commands, Python and TOML."""

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from support.examples import copied_examples
from support.programs import command
from support.samples import REPOSITORY, environment

from guidekit import measure_issue
from guidekit.issue.models.issue import Issue
from guidekit.studio.settings.model import Config, read_config

README = (REPOSITORY / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"^```(\w+)\n(.*?)^```$", README, flags=re.DOTALL | re.MULTILINE)
TYPED = [(kind, text) for kind, text in BLOCKS if kind in ("sh", "python")]
TOML = [text for kind, text in BLOCKS if kind == "toml"]

#: What sets a machine up; .ci/run types it as it stands, for it needs the network.
SET_UP = ["python3 -m venv .venv", ". .venv/bin/activate", "pip install ."]
SET_UP += ['pip install ".[test]"', "pytest"]


def beginning(text: str) -> str:
    """What a block is called in a report."""
    return text.splitlines()[0][:30]


def parts(block: str) -> list[str]:
    """The commands of a block, those in one line taken apart."""
    return [part.strip() for line in block.splitlines() for part in line.split("&&")]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with copies of the presets and examples, and the command `guidekit` in `bin`."""
    folder = tmp_path_factory.mktemp("readme")
    copied_examples(folder)
    script = folder / "bin" / "guidekit"
    script.parent.mkdir()
    script.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m guidekit "$@"\n', "utf-8")
    script.chmod(0o755)
    return folder


@pytest.mark.parametrize(("kind", "text"), TYPED, ids=beginning)
def test_blocks_run_in_order(kind: str, text: str, folder: Path) -> None:
    """Every block of shell and of Python does what it should, in a folder where the others ran."""
    if kind == "python":
        call = [sys.executable, "-c", text]
    else:
        call = [command("sh"), "-ec", "\n".join(x for x in parts(text) if x not in SET_UP)]
    path = os.pathsep.join([str(folder / "bin"), os.environ["PATH"]])
    done = subprocess.run(call, cwd=folder, env=environment(PATH=path), capture_output=True)
    assert done.returncode == 0, done.stderr.decode()


def test_the_blocks_did_what_they_say(folder: Path) -> None:
    """The commands above made pages 1 to 24 in both formats, and an issue of one's own."""
    for suffix in ("psd", "png"):
        names = sorted(path.name for path in (folder / "pages").glob(f"*.{suffix}"))
        assert names[0] == f"salt-road-02-p001.{suffix}"
        assert names[-1] == f"salt-road-02-p024.{suffix}"
    assert (folder / "glass-harbour" / "glass-harbour.toml").is_file()


def test_setting_up_is_what_ci_types() -> None:
    """The two commands that set a machine up stand in the CI script letter for letter."""
    first, second = (text.strip() for _, text in TYPED[:2])
    lines = (REPOSITORY / ".ci" / "run").read_text("utf-8").splitlines()
    assert parts(first)[:3] == SET_UP[:3]
    assert parts(second) == SET_UP[3:]
    assert first in lines
    assert second == lines[-1]
    assert not [x for _, text in TYPED[2:] for x in parts(text) if x in SET_UP]


@pytest.mark.parametrize("text", TOML, ids=beginning)
def test_every_table_loads(text: str, tmp_path: Path) -> None:
    """Every TOML block is settings, or an issue or a piece of one or a preset, and can be read."""
    keys = set(tomllib.loads(text))
    issue = tmp_path / "issue.toml"
    if keys <= set(Config.model_fields):
        issue.write_text(text, "utf-8")
        assert read_config(issue).studio_folders
        return
    if keys <= set(Issue.model_fields):
        head = {"title": 'title = "Tests"\n', "preset": 'preset = "us-comic"\n'}
        pages = "" if "pages" in keys else '[[pages]]\npanels = "splash"\n'
        missing = "".join(line for key, line in head.items() if key not in keys)
        issue.write_text(f"{missing}{text}\n{pages}", "utf-8")
    else:
        based = "" if "based_on" in keys else 'based_on = "us-comic"\n'
        (tmp_path / "house.toml").write_text(f"{based}{text}", "utf-8")
        issue.write_text(
            'title = "Tests"\npreset = "house.toml"\n[[pages]]\ntiers = [1]\n', "utf-8"
        )
    assert measure_issue(issue)["pages"]
