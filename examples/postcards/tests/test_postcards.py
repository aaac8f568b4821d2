"""What this package adds, used by guidekit; install it first: ``pip install -e ".[test]"``."""

import subprocess
import sys
from pathlib import Path

from postcards.writer import LayerListWriter

from guidekit.plugins.conformance import conforms

ISSUE = Path(__file__).with_name("issue.toml")

test_writer = conforms(LayerListWriter)


def guidekit(*arguments: object) -> str:
    """What the command line prints; raises where it is not content."""
    call = [sys.executable, "-m", "guidekit", *map(str, arguments)]
    return subprocess.run(call, check=True, capture_output=True, encoding="utf-8").stdout


def test_all_four(tmp_path: Path) -> None:
    """An issue of the preset with the layout and the guide is written as a list of layers.

    148 × 105 mm with 3 mm of bleed on every side are 1819 × 1311 px at 300 dpi.
    """
    guidekit("build", ISSUE, "--out", tmp_path, "--format", "postcards-list")
    (file,) = tmp_path.glob("*.txt")
    text = file.read_text("utf-8").splitlines()
    assert text[0] == "1819 × 1311 px at 300 dpi"
    assert "  Panel corners" in text


def test_it_loads() -> None:
    """Guidekit finds all parts of the package and can load them."""
    listed = guidekit("plugins", "list")
    for name in ("postcards", "postcards-pair", "postcards_corners", "postcards-list"):
        assert name in listed
