"""Each check of test_structure.py finds what it is for, in small packages that are wrong."""

from pathlib import Path

import pytest
from support.package_source import PackageSource

ROWS = {"plane": set(), "raster": {"plane"}, "layers": {"plane", "raster"}, "writers": {"layers"}}
TREE = {
    "plane/__init__.py": "",
    "plane/box.py": "class Box: ...",
    "raster/__init__.py": "",
    "raster/shapes.py": "from guidekit.plane.box import Box\ndef cover(box: Box): ...",
    "layers/__init__.py": "from guidekit.layers.model import Layer\n__all__ = ['Layer']",
    "layers/model.py": "from guidekit.raster.shapes import cover\nclass Layer: ...",
    "writers/psd.py": "from guidekit.layers import Layer",
}


def package(folder: Path, files: dict[str, str]) -> PackageSource:
    """A package of four good rooms, with these files changed or added."""
    for name, text in (TREE | files).items():
        path = folder / "guidekit" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return PackageSource(folder / "guidekit")


def test_a_good_package_passes(tmp_path: Path) -> None:
    """Nothing is found where nothing is wrong; a room's own names may be passed on."""
    source = package(tmp_path, {})
    assert source.without_row(ROWS) == set()
    assert source.not_allowed(ROWS) == []
    assert [*source.passed_on(), *source.relative, *source.computed] == []


@pytest.mark.parametrize("name", ["readers/any.py", "readers/deep/any.py", "readers.py"])
def test_a_new_name_is_found(tmp_path: Path, name: str) -> None:
    """A new folder or module at the top has no row, and none of its imports is allowed."""
    source = package(tmp_path, {name: "from guidekit.writers.psd import Layer"})
    assert source.without_row(ROWS) == {"readers"}
    assert len(source.not_allowed(ROWS)) == 1


def test_a_row_without_a_room_is_found(tmp_path: Path) -> None:
    """A row that is left over when its room is gone is found."""
    assert package(tmp_path, {}).without_row(ROWS | {"gone": set()}) == {"gone"}


@pytest.mark.parametrize(
    "text",
    [
        "from guidekit.writers.psd import Layer",
        "from guidekit import writers",
        "from guidekit.writers import psd",
        "import guidekit.writers.psd",
        "import guidekit.writers.psd as other",
        "def later():\n    from guidekit.writers import psd",
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import guidekit.writers.psd",
        "from importlib import import_module\nimport_module('guidekit.writers.psd')",
        "import importlib\nimportlib.import_module('guidekit.writers')",
        "__import__('guidekit.writers.psd')",
        "import sys\nsys.modules['guidekit.writers.psd']",
        "HOMES = {'psd': 'guidekit.writers.psd:Layer'}",
        "import guidekit\nguidekit.writers.psd.Layer",
    ],
)
def test_every_way_to_import_is_seen(tmp_path: Path, text: str) -> None:
    """However a module is imported, it counts."""
    source = package(tmp_path, {"plane/box.py": text})
    assert "plane.box imports from writers" in source.not_allowed(ROWS)


def test_floors_are_rooms_of_their_room(tmp_path: Path) -> None:
    """A room is read as a package of its own; what it has from other rooms is not its own."""
    files = {
        "layers/low/box.py": "from guidekit.layers.high import stack",
        "layers/high/stack.py": "from guidekit.plane.box import Box",
    }
    package(tmp_path, files)
    source = PackageSource(tmp_path / "guidekit" / "layers", inside="guidekit")
    rows: dict[str, set[str]]
    rows = {"__init__": {"model"}, "model": set(), "low": set(), "high": {"low"}}
    assert source.without_row(rows) == set()
    assert source.not_allowed(rows) == ["low.box imports from high"]


@pytest.mark.parametrize("text", ["import guidekit", "from guidekit import build_issue"])
def test_the_whole_is_a_room_too(tmp_path: Path, text: str) -> None:
    """The package's own public names are not for its rooms."""
    source = package(tmp_path, {"plane/box.py": text})
    assert source.not_allowed(ROWS) == ["plane.box imports from __init__"]


@pytest.mark.parametrize("text", ["from .box import Box", "from . import box"])
def test_relative_imports_are_found(tmp_path: Path, text: str) -> None:
    """A relative import is refused, by whatever means."""
    assert package(tmp_path, {"plane/line.py": text}).relative == ["plane.line"]
    by_name = "from importlib import import_module\nimport_module('.box', __package__)"
    assert package(tmp_path, {"plane/line.py": by_name}).relative == ["plane.line"]


def test_computed_imports_are_found(tmp_path: Path) -> None:
    """An import of a name that is put together at run time is found."""
    text = "import importlib\nimportlib.import_module(f'guidekit.{name}')"
    assert package(tmp_path, {"plane/line.py": text}).computed == {"plane.line"}


@pytest.mark.parametrize(
    "text",
    [
        "from guidekit.raster.shapes import Box",
        "from guidekit.raster import shapes\nshapes.Box",
        "import guidekit.raster.shapes\nguidekit.raster.shapes.Box",
        "ANY = 'guidekit.raster.shapes:Box'",
    ],
)
def test_names_passed_on_are_found(tmp_path: Path, text: str) -> None:
    """A box taken from raster, which has it from plane, is found."""
    source = package(tmp_path, {"layers/choose.py": text})
    assert list(source.passed_on()) == [("layers.choose", "raster.shapes", "Box")]


@pytest.mark.parametrize(
    "text",
    [
        "from guidekit.plane.box import Box\n__all__ = ['Box']",
        "from guidekit.plane.box import Box as Box",
    ],
)
def test_names_offered_are_found(tmp_path: Path, text: str) -> None:
    """A module that offers another room's name as its own is found before anybody uses it."""
    source = package(tmp_path, {"raster/__init__.py": text})
    assert list(source.passed_on()) == [("raster", "raster", "Box")]


def test_names_passed_on_twice_are_found(tmp_path: Path) -> None:
    """A name is followed through several modules, and through an equal name."""
    files = {
        "raster/own.py": "from guidekit.plane import box\nBox = box.Box",
        "raster/__init__.py": "from guidekit.raster.own import Box",
        "layers/choose.py": "from guidekit.raster import Box",
    }
    source = package(tmp_path, files)
    assert list(source.passed_on()) == [("layers.choose", "raster", "Box")]


@pytest.mark.parametrize(
    "text",
    ["def f(panel): ...", "PANELS = 1", "# of panels", "class PanelGroup: ...", "x_panel = 1"],
)
def test_strange_words_are_found(tmp_path: Path, text: str) -> None:
    """A word is found in names, comments and parts of names, and not inside another word."""
    source = package(tmp_path, {"writers/psd.py": text})
    assert len(source.lines_with("writers", ["panel"])) == 1


def test_a_word_within_a_word_is_none(tmp_path: Path) -> None:
    """Neither the end nor the beginning of another word counts."""
    source = package(tmp_path, {"writers/psd.py": "ora = entrap\nORANGE = trapeze"})
    assert source.lines_with("writers", ["trap"]) == []
    assert source.lines_with("writers", ["ora"]) == ["writers.psd:1 ora"]
