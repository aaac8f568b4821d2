"""The shape of the code: imports go one way, words stay in their stage, files stay small."""

import ast
import re
import subprocess
from pathlib import Path

import pytest
from support.package_source import TOP, PackageSource
from support.samples import REPOSITORY

GUIDEKIT = PackageSource(REPOSITORY / "guidekit")
DRAWN = PackageSource(REPOSITORY / "guidekit" / "drawn", inside="guidekit")
STUDIO = PackageSource(REPOSITORY / "guidekit" / "studio", inside="guidekit")

#: Every top-level name of the package, and what it may import beside itself: names above it only.
ROOMS: dict[str, set[str]] = {
    "errors": set(),
    "units": {"errors"},
    "memory": set(),
    "loading": set(),
    "patience": {"errors"},
    "wording": set(),
    "digest": set(),
    "toml": {"patience", "errors", "units"},
    "stops": set(),
    "threads": {"stops", "errors"},
    "store": {"threads", "stops", "errors"},
    "plane": set(),
    "raster": {"plane", "stops", "errors", "memory"},
    "registry": {"loading", "errors", "wording"},
    "preset": {"registry", "digest", "errors", "units", "toml"},
    "issue": {
        "plane",
        "raster",
        "registry",
        "preset",
        "patience",
        "errors",
        "units",
        "toml",
        "store",
    },
    "geometry": {"issue", "raster", "preset", "plane", "errors", "units", "memory", "toml"},
    "layers": {"geometry", "raster", "registry", "preset", "plane", "errors", "units", "memory"},
    "writers": {"layers", "raster", "plane", "errors", "units", "memory"},
    "cautions": {"writers", "layers", "registry", "geometry", "issue", "preset", "raster"}
    | {"errors", "units"},
    "shipped": {"registry", "writers", "layers", "issue", "preset", "toml"},
    "measure": {"shipped", "geometry", "issue", "toml", "memory"},
    "listing": {"shipped", "issue", "preset"},
    "pictures": {"writers", "geometry", "issue", "preset", "raster", "plane", "units"},
    "preflight": {"cautions", "shipped", "writers", "layers", "geometry", "issue", "registry"}
    | {"errors"},
    "build": {"preflight", "shipped", "measure", "writers", "layers", "geometry", "issue"}
    | {"store", "toml", "errors", "memory"},
    "drawn": {"build", "measure", "shipped", "store", "writers", "layers", "geometry", "issue"}
    | {"threads", "stops", "raster", "plane", "registry", "toml", "wording", "errors", "units"}
    | {"memory"},
    "plugins": {"registry", "writers", "layers", "issue", "preset", "raster", "plane"}
    | {"store", "patience", "wording", "errors"},
    "studio": {
        "drawn",
        "plugins",
        "shipped",
        "measure",
        "listing",
        "geometry",
        "issue",
        "preset",
        "registry",
    }
    | {"writers", "layers", "pictures", "store", "toml", "patience", "digest", "wording", "units"}
    | {"errors"},
    "script": {"measure", "shipped", "geometry", "issue", "preset", "plane", "store", "errors"},
    "overview": {"drawn", "pictures", "cautions", "measure", "shipped", "store", "writers"}
    | {"layers", "geometry", "issue", "raster", "plane", "errors", "units", "memory"},
    "planner": {
        "overview",
        "studio",
        "layers",
        "drawn",
        "build",
        "listing",
        "shipped",
        "geometry",
        "issue",
        "preset",
        "plane",
    }
    | {"toml", "store", "errors", "units"},
    "schema": {"studio", "issue", "preset", "registry", "toml", "units", "errors"},
    TOP: {"build", "measure", "preset", "errors", "units"},
    "cli": {
        TOP,
        "script",
        "overview",
        "planner",
        "schema",
        "studio",
        "plugins",
        "drawn",
        "build",
        "measure",
        "listing",
        "shipped",
        "pictures",
    }
    | {"issue", "preset", "registry", "store", "loading", "wording", "stops", "errors", "toml"},
    "__main__": {"cli"},
}

#: The same of the floors of the largest rooms, beside what other rooms have for them.
DRAWN_FLOORS: dict[str, set[str]] = {
    TOP: set(),
    "unfit": set(),
    "info": set(),
    "spans": {"unfit"},
    "ours": set(),
    "composing": set(),
    "psd": {"composing", "ours", "spans", "info", "unfit"},
    "ora": {"composing", "ours", "spans", "info", "unfit"},
    "standing": {"psd", "ora", "spans", "info", "unfit"},
    "refreshing": {"standing", "psd", "ora", "ours", "spans", "unfit"},
    "moving": {"refreshing", "standing", "info"},
}
STUDIO_FLOORS: dict[str, set[str]] = {
    TOP: set(),
    "settings": set(),
    "pack_file": set(),
    "places": {"pack_file"},
    "difference": set(),
    "lock": {"difference"},
    "catalogue": {"settings", "places", "lock"},
    "lists": {"catalogue", "places"},
    "locking": {"catalogue", "lock"},
    "packs": {"pack_file", "places", "difference"},
    "proposing": set(),
}
HOUSES = [(GUIDEKIT, ROOMS), (DRAWN, DRAWN_FLOORS), (STUDIO, STUDIO_FLOORS)]

#: Modules that import by a name put together at run time, and what holds those names.
COMPUTED = {
    "loading": "names that are given to it, of modules of guidekit",
    TOP: "its table of public names, compared with its imports in test_public_names.py",
    "plugins.load": "the entry points of installed packages, which test_plugins.py makes",
    "registry.named": "the strings of two tables, in shipped.py and layers/guides/kinds.py; "
    "test_shipped.py and test_guide_switches.py hold them to what is there",
}

COMICS = ("panel", "gutter", "bleed", "trim", "safe", "tier", "spread", "splash", "manuscript")
FORMATS = ("psd", "psb", "png", "tiff", "pdf", "svg", "ora", "openraster", "layer record")
#: No word of comics reaches what stores and draws, no word of a file format what comes before.
STRANGE = {"plane": COMICS, "raster": COMICS, "writers": COMICS, "layers": FORMATS}


@pytest.mark.parametrize(("source", "rows"), HOUSES)
def test_every_room_has_a_row(source: PackageSource, rows: dict[str, set[str]]) -> None:
    """Whatever is new at the top of the package must say what it may import."""
    assert source.without_row(rows) == set()


@pytest.mark.parametrize("rows", [rows for _, rows in HOUSES])
def test_rows_go_one_way(rows: dict[str, set[str]]) -> None:
    """A row allows only rooms that stand above it, so that no two can import each other."""
    names = list(rows)
    assert [name for name in names if rows[name] - set(names[: names.index(name)])] == []


@pytest.mark.parametrize(("source", "rows"), HOUSES)
def test_imports_go_one_way(source: PackageSource, rows: dict[str, set[str]]) -> None:
    """A room imports itself and what its row allows, and nothing else, by whatever means."""
    assert source.not_allowed(rows) == []


@pytest.mark.parametrize("source", [source for source, _ in HOUSES])
def test_names_come_from_where_they_are_made(source: PackageSource) -> None:
    """No module has a name from another room only to pass it on."""
    assert list(source.passed_on()) == []


def test_imports_can_be_read() -> None:
    """No import is relative, and those put together at run time are known."""
    assert GUIDEKIT.relative == []
    assert GUIDEKIT.computed == set(COMPUTED)


@pytest.mark.parametrize("room", STRANGE)
def test_words_stay_in_their_stage(room: str) -> None:
    """Plane, raster and writers hold no word of comics, layers no word of a file format."""
    assert GUIDEKIT.lines_with(room, STRANGE[room]) == []


#: One thing at two stages: as its file has it, and as it lies on a canvas.
AT_TWO_STAGES = {"DrawingLayer", "Figure"}


def test_one_name_for_one_thing() -> None:
    """No two classes have one name, but for what is promised to plug-ins of a class of ours."""
    classes = [
        node.name
        for module, tree in GUIDEKIT.trees.items()
        for node in tree.body
        if isinstance(node, ast.ClassDef)
        if module != "plugins.contract" and not node.name.startswith("_")
    ]
    assert {name for name in classes if classes.count(name) > 1} == AT_TWO_STAGES


def test_files_stay_small() -> None:
    """No file has more than 300 lines, and each says in its first line what it is for."""
    sizes = {path: path.read_text("utf-8").count("\n") for path in GUIDEKIT.files.values()}
    assert [path for path, lines in sizes.items() if lines > 300] == []
    assert [name for name, tree in GUIDEKIT.trees.items() if not ast.get_docstring(tree)] == []


def test_top_level() -> None:
    """The repository's top level holds what was agreed and nothing else beside dot-files."""
    if not (REPOSITORY / ".git").exists():
        pytest.skip("this is no checkout")
    done = subprocess.run(
        ["git", "ls-files", "-z"], cwd=REPOSITORY, capture_output=True, text=True, check=True
    )
    there = {name.partition("/")[0] for name in done.stdout.split("\0") if name}
    folders = {"guidekit", "tests", "presets", "examples"}
    assert folders < there
    allowed = folders | {"README.md", "DEVELOPERS.md", "pyproject.toml"}
    assert {name for name in there if not name.startswith(".")} <= allowed


def test_no_test_depends_on_a_clock() -> None:
    """No test gives a number of seconds: what hangs is ended after `HANG`, and laws have no clock.

    conftest.py says so once for all random examples; benchmarks are there to take times.
    """
    clocks = re.compile(
        r"deadline=|timeout=\d|\bwait\(\d|perf_counter|max_examples="
        r"|\btime\.time\(|datetime|process_time|getrusage"
    )
    allowed = {Path(__file__).name, "conftest.py", "run.py", "drawn.py", "parts.py"}
    allowed |= {"test_exhausting.py", "test_too_much.py"}  # seconds of the processor, with room
    files = [path for path in (REPOSITORY / "tests").rglob("*.py") if path.name not in allowed]
    assert [path.name for path in files if clocks.search(path.read_text("utf-8"))] == []
