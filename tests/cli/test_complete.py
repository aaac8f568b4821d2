"""What a shell offers while one types, from the same catalogue that commands use."""

import subprocess
import sys
from pathlib import Path

import pytest
from support.homes import Home, home, house, written
from support.long import shortened
from support.samples import environment

CALL = "import sys; sys.argv = ['guidekit']; from guidekit.cli import main; main()"


def offered(maker: Home, line: str) -> list[str]:
    """What is offered for the last word of a line, as a shell asks for it."""
    words = line.split(" ")
    done = subprocess.run(
        [sys.executable, "-c", CALL],
        cwd=maker.desk,
        env=environment(
            _GUIDEKIT_COMPLETE="complete_bash",
            COMP_WORDS=line,
            COMP_CWORD=str(len(words) - 1),
            GUIDEKIT_STUDIO=str(maker.studio),
        ),
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""
    return done.stdout.split("\n")[:-1] if done.stdout.strip() else []


@pytest.fixture
def maker(tmp_path: Path) -> Home:
    """A maker with a preset and a layout of a studio, and an issue that is wrong."""
    maker = home(tmp_path)
    maker.write("desk/issue.toml", 'title = "A"\npreset = "house"\n[[pages]]\npanels = "ours"\n')
    maker.write("desk/wrong.toml", 'title = "A"\n')
    written(maker.studio / "house.toml", house())
    written(maker.studio / "layouts" / "x.toml", '[ours]\nabout = "Two."\ntiers = [2]\n')
    return maker


CASES = [
    ("guidekit presets show ho", ["house"]),
    ("guidekit presets show us-comic-", ["us-comic-art-board"]),
    ("guidekit new x --preset hou", ["house"]),
    ("guidekit layouts show our", ["ours"]),
    ("guidekit presets pack us-comic ou", ["ours"]),
    ("guidekit build issue.toml --format psd,tiff-", ["psd,tiff-page"]),
    ("guidekit build issue.toml --layers Guides,In", ["Guides,Inks"]),
    ("guidekit build issue.toml --layers Panel", ["Panel numbers", "Panel borders"]),
    ("guidekit build wrong.toml --layers Gui", []),
    ("guidekit presets show no-such", []),
]


@pytest.mark.parametrize(("line", "found"), shortened(CASES, CASES[::2]))
def test_names(maker: Home, line: str, found: list[str]) -> None:
    """Names of presets, layouts, formats, guides and layers are offered, the last of several."""
    assert offered(maker, line) == found
