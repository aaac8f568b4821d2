"""A dry run tells what a build would do, and does nothing; what is left over is named."""

import json
from pathlib import Path

import pytest
from support.samples import (
    DPI,
    FOUR_PAGES,
    HEAD,
    JOURNAL,
    NAMES,
    SPLASH,
    contents,
    events_of,
    issue_file,
    run_here,
)
from support.small_builds import DRY, put_all

from guidekit import InputError, build_issue

GUTTER = 'gutter = "0.25 in"'


def test_in_no_folder(tmp_path: Path) -> None:
    """Before the first build all would be written, and not even the folder is made."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    run = run_here("build", issue, "--out", out, "--dpi", DPI, "--dry-run")
    listed = "".join(f"  would be written: {name}\n" for name in NAMES)
    assert (run.code, run.err) == (0, "")
    first, canvases, *rest = run.out.splitlines(keepends=True)
    assert first == f"{out}: 4 would be written.\n"
    assert canvases.startswith("4 canvases of ")
    assert "".join(rest).startswith(f"{listed}Caution: ")
    assert not out.exists()


@pytest.mark.parametrize("formats", [["psd"], ["png", "png-layers"]])
def test_tells_what_the_build_does(tmp_path: Path, formats: list[str]) -> None:
    """A dry run reports the very outcomes of the build that follows, and touches nothing."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    names = [*build_issue(issue, out, dpi=DPI, formats=formats).files]
    (out / names[0]).write_bytes(b"drawn")
    (out / names[-1]).write_bytes(b"drawn as well")
    (out / names[1]).unlink()
    changed = issue_file(tmp_path, FOUR_PAGES.replace(GUTTER, 'gutter = "0.5 in"'))
    before, state = contents(out), out.stat()
    dry = build_issue(changed, out, dpi=DPI, formats=formats, dry_run=True)
    assert contents(out) == before
    assert out.stat().st_mtime_ns == state.st_mtime_ns
    assert set(dry.files.values()) == {"written", "unchanged", "drawn", "kept"}
    assert dry == build_issue(changed, out, dpi=DPI, formats=formats)


def test_after_a_killed_build(tmp_path: Path) -> None:
    """A dry run reads what a killed build left, and leaves it to the next build."""
    put_all(tmp_path, 1, ["p1"])
    entry = json.loads((tmp_path / ".guidekit.json").read_bytes())["files"]["p1"]
    (tmp_path / "p2").write_bytes((tmp_path / "p1").read_bytes())
    line = {"file": "p2", "part": ".guidekit-00000000000000aa.part", "entry": entry}
    (tmp_path / JOURNAL).write_text(json.dumps(line) + "\n")
    (tmp_path / ".guidekit-00000000000000aa.part").write_bytes(b"half")
    before = contents(tmp_path)
    assert put_all(tmp_path, 2, ["p1", "p2"], DRY) == {"p1": "written", "p2": "written"}
    assert contents(tmp_path) == before


def test_out_is_a_file(tmp_path: Path) -> None:
    """A dry run refuses a file in place of the folder as the build would."""
    (tmp_path / "out").write_bytes(b"mine")
    with pytest.raises(InputError, match="this is a file"):
        build_issue(issue_file(tmp_path), tmp_path / "out", dpi=DPI, dry_run=True)


def test_as_json(tmp_path: Path) -> None:
    """With --json the report has the same outcomes, and what is left over."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path), out, dpi=DPI)
    issue = issue_file(tmp_path, HEAD + SPLASH)
    run = run_here("build", issue, "--out", out, "--dpi", DPI, "--dry-run", "--json")
    assert [page["files"] for page in events_of(run, "page")] == [{NAMES[0]: "unchanged"}]
    (finished,) = events_of(run, "finished")
    assert finished["left_over"] == [*NAMES[1:]]
    assert finished["complete"]


def test_left_over_of_another_title(tmp_path: Path) -> None:
    """When a new title gives files new names, the old ones are named, drawn on or not."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path), out, dpi=DPI)
    (out / NAMES[2]).write_bytes(b"drawn")
    (out / NAMES[3]).unlink()
    issue = issue_file(tmp_path, FOUR_PAGES.replace("Salt Road", "Long Road"))
    report = build_issue(issue, out, dpi=DPI)
    assert report.left_over == NAMES[:3]
    assert (out / NAMES[2]).read_bytes() == b"drawn"
    assert all((out / name).exists() for name in NAMES[:3])


def test_left_over_layers(tmp_path: Path) -> None:
    """A picture of a layer that a canvas has no more is left over, its neighbours are not."""
    out, text = tmp_path / "out", HEAD + SPLASH
    before = build_issue(issue_file(tmp_path, text), out, dpi=DPI, formats=["png-layers"])
    without = issue_file(tmp_path, text + '[guides]\ntrim = "off"\n')
    report = build_issue(without, out, dpi=DPI, formats=["png-layers"])
    gone = tuple(sorted(set(before.files) - set(report.files)))
    assert gone
    assert report.left_over == gone


def test_left_over_beside_a_choice_of_pages(tmp_path: Path) -> None:
    """Where only some pages are built, what no page makes any more is named all the same."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path), out, dpi=DPI)
    issue = issue_file(tmp_path, HEAD + SPLASH * 2)
    assert build_issue(issue, out, dpi=DPI, pages=[1]).left_over == NAMES[2:]


@pytest.mark.parametrize(
    "less", [{"pages": [1]}, {"formats": ["png"]}, {"layers": ["Trim"], "formats": ["png-layers"]}]
)
def test_not_left_over(tmp_path: Path, less: dict[str, list[str]]) -> None:
    """What a build was not asked for is not left over: other pages, formats, layers."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    build_issue(issue, out, dpi=DPI, formats=["psd", "png-layers"])
    assert build_issue(issue, out, dpi=DPI, **less).left_over == ()  # type: ignore[arg-type]
