"""The shape of the code: imports go one way, words stay in their stage, files stay small."""

import ast
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from support.samples import REPOSITORY, environment

import guidekit

PACKAGE = REPOSITORY / "guidekit"
FILES = sorted(PACKAGE.rglob("*.py"))

#: What each room may import beside itself and `FREE`.
MAY_IMPORT = {
    "plane": set(),
    "raster": {"plane"},
    "preset": set(),
    "issue": {"preset"},
    "geometry": {"plane", "preset", "issue"},
    "layers": {"plane", "geometry", "raster"},
    "writers": {"plane", "layers", "raster"},
}
FREE = {"errors", "units", "toml_file", "store"}  # helpers, which know no stage
COMICS = ("panel", "gutter", "bleed", "trim", "safe", "tier", "spread")
FORMATS = ("psd", "psb", "png", "layer record")


def module_of(path: Path) -> str:
    """``geometry.box`` for ``guidekit/geometry/box.py``, ``geometry`` for its ``__init__.py``."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def is_module(name: str) -> bool:
    """True if there is a module or folder of guidekit of this dotted name."""
    path = PACKAGE.joinpath(*name.split("."))
    return path.is_dir() or path.with_suffix(".py").is_file()


@cache
def imports(path: Path) -> frozenset[str]:
    """All modules of guidekit that a file imports, at its top or inside a function."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{path}: a relative import, which this test cannot follow"
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
            found.add(str(node.module))
    ours = {name.removeprefix("guidekit.") for name in found if name.startswith("guidekit.")}
    return frozenset(name for name in ours if is_module(name))


def within(module: str, allowed: set[str]) -> bool:
    """True if a module is one of `allowed` or lies in one."""
    return any(module == name or module.startswith(f"{name}.") for name in allowed)


def test_imports_are_seen():
    """The reading of imports finds what is known to be there, so that the next tests can fail."""
    assert {"writers", "store", "layers"} <= imports(PACKAGE / "build.py")
    assert "preset" in imports(PACKAGE / "cli" / "presets.py")
    assert {path.relative_to(PACKAGE).parts[0] for path in FILES} >= set(MAY_IMPORT)


@pytest.mark.parametrize("stage", MAY_IMPORT)
def test_imports_go_one_way(stage: str):
    """A stage imports itself, what its row allows and the helpers, and nothing else."""
    allowed = MAY_IMPORT[stage] | FREE | {stage}
    wrong = {
        module_of(path): name
        for path in FILES
        if within(module_of(path), {stage})
        for name in imports(path)
        if not within(name, allowed) and not any(a.startswith(f"{name}.") for a in allowed)
    }
    assert wrong == {}


@pytest.mark.parametrize("name", sorted(FREE))
def test_helpers_know_no_stage(name: str):
    """A helper imports other helpers only."""
    assert imports(PACKAGE / f"{name}.py") <= FREE


def test_nobody_imports_the_command_line():
    """Only the command line imports the command line, and the two lines that start it."""
    wrong = [
        module_of(path)
        for path in FILES
        if any(within(name, {"cli"}) for name in imports(path))
        and not within(module_of(path), {"cli", "__main__"})
    ]
    assert wrong == []


def test_only_the_top_imports_the_whole():
    """`build` is imported by the package's own names and by the command line alone."""
    users = {module_of(path) for path in FILES if "build" in imports(path)}
    assert {name.partition(".")[0] for name in users} <= {"", "cli"}


@pytest.mark.parametrize(
    ("stage", "words"),
    [("plane", COMICS), ("raster", COMICS), ("writers", COMICS), ("layers", FORMATS)],
    ids=["plane", "raster", "writers", "layers"],
)
def test_words_stay_in_their_stage(stage: str, words: tuple[str, ...]):
    """Plane, raster and writers hold no word of comics, layers no word of a file format."""
    pattern = re.compile(rf"(?<![a-z])({'|'.join(words)})(?:s|es)?(?![a-z])", re.IGNORECASE)
    assert pattern.search(f"x_{words[0]}s(")
    for path in (PACKAGE / stage).rglob("*.py"):
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
            assert not pattern.search(line), f"{path}:{number}"


def test_public_names():
    """About ten names are public; all are listed, importable and documented."""
    names = set(guidekit.__all__) - {"__version__"}
    assert names == {
        "BuildReport",
        "GuidekitError",
        "InputError",
        "Length",
        "MachineError",
        "Preset",
        "build_issue",
        "load_issue",
        "measure_issue",
    }
    for name in names:
        assert getattr(guidekit, name).__doc__
        assert getattr(guidekit, name).__name__ == name
    assert re.fullmatch(r"\d+\.\d+\.\d+\w*", guidekit.__version__)
    with pytest.raises(AttributeError, match="'guidekit' has no attribute 'build_isue'"):
        _ = guidekit.build_isue


def test_names_for_editors_are_the_same():
    """The names that type checkers see are those that are there at run time."""
    tree = ast.parse((PACKAGE / "__init__.py").read_text("utf-8"))
    (checked,) = [node for node in tree.body if isinstance(node, ast.If)]
    seen = {alias.asname for node in ast.walk(checked) if isinstance(node, ast.ImportFrom)
            for alias in node.names}  # fmt: skip
    assert seen == set(guidekit.__all__) - {"__version__"}


@pytest.mark.parametrize("start", ["import guidekit", "import guidekit.cli"])
def test_start_is_light(start: str):
    """Neither the package nor its command line loads a heavy library before it is needed."""
    heavy = ("numpy", "pydantic", "psd_tools", "PIL")
    code = f"import sys\n{start}\nprint([name for name in {heavy} if name in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code], env=environment(), capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_files_stay_small(path: Path):
    """No file has more than 300 lines, and each says in its first line what it is for."""
    text = path.read_text("utf-8")
    assert text.count("\n") <= 300
    assert ast.get_docstring(ast.parse(text))


def test_top_level():
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
