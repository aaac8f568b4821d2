"""The documents are true: their examples work, and no command, key or guide is missing in them."""

import re
import tomllib
from pathlib import Path

import pytest

from guidekit import measure_issue
from guidekit.cli import app
from guidekit.issue.model import Issue, Layout, Page, ScrollItem
from guidekit.issue.panel_model import BreakOut, Inset, PanelModel, Perspective, Wall
from guidekit.preset.guides import GUIDES
from guidekit.preset.model import Beats, DrawingLayer, Edges, Lettering, Preset, Scroll
from guidekit.writers import WRITERS

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
MODELS = (
    Preset, Edges, Lettering, Scroll, Beats, DrawingLayer, Issue, Page, Layout, ScrollItem,
    PanelModel, BreakOut, Inset, Perspective, Wall,
)  # fmt: skip


def blocks(kind: str) -> list[str]:
    """The code blocks of a kind in the README."""
    return re.findall(rf"```{kind}\n(.*?)```", README, flags=re.DOTALL)


def test_the_issue_can_be_built(tmp_path: Path):
    """The issue that the README shows first is fit to be built as it stands."""
    path = tmp_path / "issue.toml"
    path.write_text(blocks("toml")[0], "utf-8")
    assert measure_issue(path)["pages"][-1]["side"] == "spread"


def test_every_table_is_toml():
    """Every TOML example can be read."""
    assert all(tomllib.loads(block) for block in blocks("toml"))


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_every_key_is_named(model: type[Issue]):
    """Every key of presets, issues, pages and panels stands in the README."""
    known = set(re.findall(r"[a-z_]+", README))
    assert set(model.model_fields) - known == set()


@pytest.mark.parametrize("name", [*GUIDES, *WRITERS])
def test_every_guide_and_format_is_named(name: str):
    """Every guide and every format stands in the README."""
    assert f"`{name}`" in README


def test_every_command_is_named():
    """Every command stands in the README, as one would type it."""
    groups = {group.name: group.typer_instance for group in app.registered_groups}
    names = [command.name for command in app.registered_commands]
    names += [
        f"{name} {c.name}" for name, group in groups.items() for c in group.registered_commands
    ]
    assert [name for name in names if f"guidekit {name}" not in README] == []


def test_ci_runs_the_command_of_the_readme():
    """The second command of the README is the last line of the CI script."""
    assert blocks("sh")[1].strip() == (ROOT / ".ci" / "run").read_text("utf-8").splitlines()[-1]


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_nothing_is_left_to_fill_in(name: str):
    """No line of a document is a word in capitals alone."""
    text = (ROOT / name).read_text("utf-8")
    assert not re.findall(r"^[A-Z]{4,}$", text, flags=re.MULTILINE)
