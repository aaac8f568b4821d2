"""What `import guidekit` offers, and that it costs next to nothing."""

import ast
import re

import pytest
from support.loading import loaded, printed
from support.samples import REPOSITORY

import guidekit

#: What draws and writes.
HEAVY = ("numpy", "PIL", "psd_tools", "reportlab", "uharfbuzz")
#: What a page of boxes and plain letters in one PSD has no use for.
NOT_FOR_A_PAGE = (
    *("reportlab", "pyclipper", "bidi", "tree_sitter", "starlette", "watchfiles", "asyncio", "ssl"),
    *(f"guidekit.{room}" for room in ("drawn", "listing", "overview", "pictures", "schema")),
    *(f"guidekit.writers.{name}" for name in ("ora", "pdf", "png", "svg", "tiff")),
)


def test_public_names() -> None:
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
        "check_issue",
        "load_issue",
        "measure_issue",
    }
    for name in names:
        assert getattr(guidekit, name).__doc__
        assert getattr(guidekit, name).__name__ == name
    assert re.fullmatch(r"\d+\.\d+\.\d+\w*", guidekit.__version__)
    with pytest.raises(AttributeError, match="'guidekit' has no attribute 'build_isue'"):
        _ = guidekit.build_isue


def test_names_that_are_listed() -> None:
    """``dir`` of a package just imported has the public names, none of them loaded."""
    code = "import guidekit; print({*guidekit.__all__} - {*dir(guidekit)})"
    assert loaded(code, ("guidekit.build", "guidekit.errors")) == []
    assert printed(code) == "set()\n"


def test_names_for_editors_are_the_same() -> None:
    """The names that type checkers see are those of run time, from the same modules."""
    tree = ast.parse((REPOSITORY / "guidekit" / "__init__.py").read_text("utf-8"))
    (checked,) = [node for node in tree.body if isinstance(node, ast.If)]
    seen = {
        alias.asname: node.module
        for node in ast.walk(checked)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert set(seen) == set(guidekit.__all__) - {"__version__"}
    assert seen == {name: f"guidekit.{home}" for name, home in guidekit._HOMES.items()}


@pytest.mark.parametrize("start", ["import guidekit", "import guidekit.cli"])
def test_start_is_light(start: str) -> None:
    """Neither the package nor its command line loads a heavy library before it is needed."""
    assert loaded(start, (*HEAVY, "pydantic")) == []


@pytest.mark.parametrize(
    ("arguments", "heavy"),
    [
        (["presets", "list"], (*HEAVY, "pydantic")),
        (["layouts", "list"], (*HEAVY, "pydantic")),
        (["formats", "--json"], (*HEAVY, "pydantic")),
        (["presets", "show", "us-comic"], HEAVY),
        (["measure", "examples/salt-road.toml"], (*HEAVY, "pyclipper")),  # it has only boxes
        (["measure", "examples/lantern-row.toml"], HEAVY),
        (["dummy", "examples/salt-road.toml"], HEAVY),
        (["compare", "examples/salt-road.toml", "examples/glass-harbour.txt"], HEAVY),
        (["build", "examples/salt-road.toml", "--pages", "1", "--dry-run"], NOT_FOR_A_PAGE),
    ],
    ids=lambda value: " ".join(value[:2]),
)
def test_commands_are_light(arguments: list[str], heavy: tuple[str, ...]) -> None:
    """What only reads or lists loads nothing that draws or writes; lists check no file either.

    A build loads what its page and its formats need.
    """
    run = (
        "import sys\nfrom guidekit.cli import main\n"
        f"sys.argv = ['guidekit', *{arguments}]\n"
        "try:\n    main()\nexcept SystemExit as end:\n    assert end.code == 0"
    )
    assert loaded(run, heavy) == []


def test_no_network() -> None:
    """What writes files does not load what talks to a network."""
    code = "import guidekit.build, guidekit.writers.psd, guidekit.writers.svg, guidekit.writers.ora"
    assert loaded(code, ("ssl", "http.client", "urllib.request")) == []


def test_no_model_is_built_at_import() -> None:
    """To load models builds none of them; one that checks a file builds those inside it as well."""
    code = (
        "import guidekit.issue.models.issue\nfrom guidekit.toml import Model\n"
        "def kinds(model):\n"
        "    for kind in model.__subclasses__():\n"
        "        yield kind\n"
        "        yield from kinds(kind)\n"
        "names = [kind.__name__ for kind in kinds(Model)]\n"
        "assert {'Preset', 'Issue', 'Part', 'Page'} <= set(names)\n"
        "print([kind.__name__ for kind in kinds(Model) if kind.__pydantic_complete__])"
    )
    assert printed(code) == "[]\n"


def test_a_good_issue_loads_no_finder_of_lines() -> None:
    """What tells lines and slips of TOML is loaded only for a file in which something is wrong."""
    code = (
        "import sys; from guidekit import measure_issue; measure_issue('examples/salt-road.toml')\n"
        "print(sorted(name for name in sys.modules if 'tree_sitter' in name or 'toml.' in name))"
    )
    names = ["check", "file", "model", "tables"]
    assert printed(code) == f"{[f'guidekit.toml.{name}' for name in names]}\n"
