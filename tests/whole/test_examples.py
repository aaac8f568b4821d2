"""The examples are fit to be built as they stand."""

import re
from pathlib import Path

import pytest
from PIL import Image

from guidekit import build_issue, measure_issue

EXAMPLES = Path(__file__).parents[2] / "examples"
PICTURE, FREE = EXAMPLES / "salt-road-p004.png", EXAMPLES / "free-panels.png"
README = EXAMPLES.parent / "README.md"


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_example_builds(path: Path, tmp_path: Path) -> None:
    """Every canvas of an example comes out with the size that `measure` tells."""
    dpi = None if path.stem == "tide-line" else 60  # a scroll is measured in pixels
    report = build_issue(path, tmp_path, formats=["png-page"], dpi=dpi)
    sizes = {
        f"{page['file_name']}-page.png": tuple(page["canvas"])
        for page in measure_issue(path, dpi=dpi)["pages"]
    }
    assert report.complete
    assert {name: Image.open(tmp_path / name).size for name in report.files} == sizes


def test_readme_picture(tmp_path: Path) -> None:
    """The picture in the README shows page 4 of the first example as it is built today."""
    issue = EXAMPLES / "salt-road.toml"
    report = build_issue(issue, tmp_path, formats=["png-page"], dpi=100, pages=[4])
    (name,) = report.named("written")
    today, shown = (Image.open(path).convert("RGB") for path in (tmp_path / name, PICTURE))
    assert today.tobytes() == shown.tobytes()


def test_readme_picture_of_free_panels(tmp_path: Path) -> None:
    """The picture beside them in the README shows its free panels as they are built today."""
    (text,) = re.findall(r"```toml\n([^`]*Falling cat[^`]*)```", README.read_text("utf-8"))
    issue = tmp_path / "free.toml"
    issue.write_text(f'title = "Free panels"\npreset = "us-comic"\n{text}', "utf-8")
    report = build_issue(issue, tmp_path, formats=["png-page"], dpi=60)
    (name,) = report.named("written")
    today, shown = (Image.open(path).convert("RGB") for path in (tmp_path / name, FREE))
    assert today.tobytes() == shown.tobytes()
