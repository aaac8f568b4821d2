"""The documents are whole: no command, key or guide is missing in them."""

import re
from pathlib import Path

import pytest
from support.catalogue import FORMATS, GUIDES
from support.command_words import command_words
from support.package_source import PackageSource

from guidekit.issue.models.book import Barcode, Binding, Cover, Folios, Section
from guidekit.issue.models.issue import Issue, Page, ScrollItem
from guidekit.issue.models.own_shape import Figure
from guidekit.issue.models.panel import BreakOut, Inset, PanelModel, Perspective, Wall
from guidekit.issue.models.part import Layout
from guidekit.issue.models.series import Series
from guidekit.preset.drawing import DrawingLayer, Lettering
from guidekit.preset.model import Preset
from guidekit.preset.scroll import Beats, Scroll
from guidekit.preset.sizes import Edges

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
MODELS = (
    Preset, Edges, Lettering, Scroll, Beats, DrawingLayer, Issue, Page, Layout, ScrollItem,
    PanelModel, BreakOut, Inset, Figure, Perspective, Wall, Barcode, Binding, Cover, Folios,
    Section, Series,
)  # fmt: skip


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_every_key_is_named(model: type[Issue]) -> None:
    """Every key of presets, issues, pages and panels stands in the README."""
    known = set(re.findall(r"[a-z_]+", README))
    assert set(model.model_fields) - known == set()


@pytest.mark.parametrize("name", [*GUIDES, *FORMATS])
def test_every_guide_and_format_is_named(name: str) -> None:
    """Every guide and every format stands in the README."""
    assert f"`{name}`" in README


def test_every_command_is_named() -> None:
    """Every command stands in the README, as one would type it."""
    names = [" ".join(words) for words in command_words()]
    assert [name for name in names if f"guidekit {name}" not in README] == []


@pytest.mark.parametrize(
    "said",
    [
        "some apps show no locks, so mind which layer is active",
        "python3 -m venv .venv && . .venv/bin/activate && pip install .",
        "`sudo apt install python3-venv` brings it",
        "In a Windows shell, which may not know `&&`",
        r"`.venv\Scripts\activate` for the second",
        "above 30,000 px along an edge a PSB, which several apps do not open",
    ],
)
def test_what_one_stumbles_over_is_told(said: str) -> None:
    """What depends on the machine or the app stands where it is needed."""
    assert said in " ".join(README.split())


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_nothing_is_left_to_fill_in(name: str) -> None:
    """No line of a document is a word in capitals alone."""
    text = (ROOT / name).read_text("utf-8")
    assert not re.findall(r"^[A-Z]{4,}$", text, flags=re.MULTILINE)


def test_every_room_is_on_the_map() -> None:
    """Every top-level name of the package stands in the map of DEVELOPERS.md."""
    rooms = PackageSource(ROOT / "guidekit").rooms - {"__init__", "__main__"}
    named = set(re.findall(r"`(?:guidekit/)?(\w+)(?:/|\.py)`", DEVELOPERS))
    assert rooms - named == set()


def test_every_path_is_there() -> None:
    """Every folder and file that DEVELOPERS.md names from the top is there."""
    named = re.findall(r"`((?:guidekit|tests|presets|examples)/[\w/.]*)`", DEVELOPERS)
    assert [name for name in named if not (ROOT / name).exists()] == []
