"""``guidekit check``: a whole issue, and nothing written."""

import json
from pathlib import Path

import pytest
from support.samples import FOUR_PAGES, HEAD, REPOSITORY, SPLASH, contents, issue_file, run_here

from guidekit import build_issue, check_issue
from guidekit.build import CheckReport

SPREAD = "[[pages]]\nspread = true\npanels = 1\n"


def test_a_good_issue(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A good issue is said to be fit, with its cautions, and no file or folder is made."""
    monkeypatch.chdir(tmp_path)
    path = issue_file(tmp_path, HEAD + SPLASH + SPREAD + SPLASH)
    run = run_here("check", path)
    assert (run.code, run.err) == (0, "")
    first, *cautions = run.out.splitlines()
    assert first == f"{path}: The Salt Road, 4 pages on 3 canvases, fit to build."
    assert cautions
    assert all(line.startswith("Caution: ") for line in cautions)
    assert contents(tmp_path).keys() == {"issue.toml"}


def test_as_json(tmp_path: Path) -> None:
    """With --json the same is printed for programs."""
    path = issue_file(tmp_path)
    run = run_here("check", path, "--json")
    report = check_issue(path)
    assert (run.code, run.err) == (0, "")
    assert json.loads(run.out) == {
        "issue": str(path),
        "title": "The Salt Road",
        "pages": 4,
        "canvases": 4,
        "cautions": list(report.cautions),
    }


def test_from_python(tmp_path: Path) -> None:
    """The report has the cautions that a build of the same pages has."""
    path = issue_file(tmp_path)
    report = check_issue(path)
    assert isinstance(report, CheckReport)
    assert report.cautions == build_issue(path, tmp_path / "out").cautions


WRONG = {
    "a value": FOUR_PAGES.replace("0.25 in", "0.25"),
    "a page": FOUR_PAGES.replace("0.25 in", "7 in"),
    "the TOML": FOUR_PAGES.replace('"0.25 in"', "0.25 in"),
    "a preset": FOUR_PAGES.replace("us-comic", "us-comics"),
}


@pytest.mark.parametrize("text", WRONG.values(), ids=WRONG)
def test_a_wrong_issue(tmp_path: Path, text: str) -> None:
    """A wrong issue is told word for word as a build would, with exit code 2."""
    path = issue_file(tmp_path, text)
    run = run_here("check", path)
    assert (run.code, run.out) == (2, "")
    assert run == run_here("build", path, "--out", tmp_path / "out")


def test_what_a_format_cannot_hold(tmp_path: Path) -> None:
    """The limits are those of the formats that are asked for."""
    trim = 'format.trim = { width = "150001 px", height = "10 in" }\nformat.bleed = "0 px"\n'
    path = issue_file(tmp_path, HEAD + trim + SPLASH + SPREAD + SPLASH)
    assert run_here("check", path).err.startswith(
        "guidekit: issue.toml, pages 2 and 3: 300,002 px along an edge are too many for psd, which "
    )
    assert run_here("check", path, "--format", "png").code == 0


def test_a_preset_in_place_of_an_issue() -> None:
    """A preset is told to be one."""
    path = REPOSITORY / "presets" / "us-comic.toml"
    said = f"guidekit: {path}: this is a preset and not an issue. Name an issue, which names a "
    assert run_here("check", path) == (2, "", f"{said}preset.\n")


def test_an_issue_in_place_of_a_preset(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What asks for a preset tells an issue to be one, and how that is checked."""
    path = issue_file(tmp_path / "a b")
    monkeypatch.chdir(path.parent)
    said = "guidekit: issue.toml: this is an issue and not a preset. Check it with: guidekit check "
    assert run_here("presets", "check", path.name) == (2, "", f"{said}issue.toml\n")
    said = '"issue.toml" is an issue and not a preset. Name a preset.\n'
    assert run_here("presets", "show", path.name) == (2, "", f"guidekit: {said}")
    path.write_text(path.read_text("utf-8").replace("us-comic", path.name), "utf-8")
    told = f"guidekit: issue.toml, line 3, preset: {said}"
    assert run_here("check", path.name) == (2, "", told)
