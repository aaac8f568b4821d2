"""Canvases of another issue, or of another resolution, are not replaced unasked."""

from pathlib import Path

import pytest
from support.samples import DPI, FOUR_PAGES, NAMES, WIDER, contents, issue_file, run_here
from support.small_builds import data_of, put_all

from guidekit import InputError, build_issue
from guidekit.store.folder import Permissions


@pytest.fixture
def built(tmp_path: Path) -> Path:
    """The folder of a finished build of `issue.toml` beside it."""
    build_issue(issue_file(tmp_path), tmp_path / "out", dpi=DPI)
    return tmp_path / "out"


def test_another_issue(built: Path) -> None:
    """Another issue with the same file names is refused, with what to do, and nothing changes."""
    before = contents(built)
    other = issue_file(built.parent, WIDER, "other.toml")
    with pytest.raises(InputError) as caught:
        build_issue(other, built, dpi=DPI)
    assert str(caught.value) == (
        f"{built}: {NAMES[0]} and 3 more were made for another issue, {built.parent}/issue.toml. "
        "Build into another folder, or give one of the two issues another file_name."
    )
    assert contents(built) == before
    assert build_issue(other, built.parent / "elsewhere", dpi=DPI).named("written") == NAMES


def test_another_issue_in_a_dry_run(built: Path) -> None:
    """A dry run says the same of another issue."""
    other = issue_file(built.parent, WIDER, "other.toml")
    with pytest.raises(InputError, match=r"were made for another issue"):
        build_issue(other, built, dpi=DPI, dry_run=True)


def test_taken_over(built: Path) -> None:
    """With --take-over the blanks become the other issue's; a drawing is kept all the same."""
    (built / NAMES[1]).write_bytes(b"art")
    other = issue_file(built.parent, WIDER, "other.toml")
    run = run_here("build", other, "--out", built, "--dpi", DPI, "--take-over")
    assert run.code == 1
    assert run.out.startswith(f"{built}: 3 written, 1 kept.\n")
    assert (built / NAMES[1]).read_bytes() == b"art"
    (built / NAMES[1]).unlink()
    assert build_issue(other, built, dpi=DPI).complete, "they are its own now"
    with pytest.raises(InputError):
        build_issue(built.parent / "issue.toml", built, dpi=DPI)


def test_an_issue_that_was_renamed(built: Path) -> None:
    """An issue whose file was renamed, or moved with its folder, is no other issue."""
    changed = issue_file(built.parent, WIDER)
    renamed = changed.rename(built.parent / "salt-road.toml")
    assert build_issue(renamed, built, dpi=DPI).named("written") == NAMES
    moved = built.parent.rename(built.parent.with_name("moved"))
    issue = issue_file(moved, FOUR_PAGES, "salt-road.toml")
    assert build_issue(issue, moved / "out", dpi=DPI).named("written") == NAMES


def test_one_issue_by_two_paths(built: Path) -> None:
    """A link to the issue is the same issue."""
    link = built.parent / "link.toml"
    link.symlink_to(issue_file(built.parent, WIDER))
    assert build_issue(link, built, dpi=DPI).named("written") == NAMES
    hard = built.parent / "hard.toml"
    hard.hardlink_to(built.parent / "issue.toml")
    assert build_issue(hard, built, dpi=DPI).named("unchanged") == NAMES


def test_other_names_in_one_folder(built: Path) -> None:
    """Two issues with names of their own share a folder."""
    other = issue_file(built.parent, FOUR_PAGES.replace("number = 2", "number = 3"), "three.toml")
    assert len(build_issue(other, built, dpi=DPI).named("written")) == 4
    assert build_issue(built.parent / "issue.toml", built, dpi=DPI).named("unchanged") == NAMES


def test_canvases_that_were_moved_away(built: Path) -> None:
    """Where the other issue's canvases are gone, there is nothing to ask for."""
    for name in NAMES:
        (built / name).unlink()
    other = issue_file(built.parent, WIDER, "other.toml")
    assert build_issue(other, built, dpi=DPI).named("written") == NAMES


def test_another_resolution(tmp_path: Path) -> None:
    """--dpi never replaces canvases of another resolution: they are kept and named, exit code 1."""
    issue, out = issue_file(tmp_path, FOUR_PAGES + "[format]\ndpi = 40\n"), tmp_path / "out"
    build_issue(issue, out, pages=[1, 2])
    before = contents(out)
    run = run_here("build", issue, "--out", out, "--dpi", DPI)
    assert run.code == 1
    assert run.out.startswith(f"{out}: 2 written, 2 kept.\n")
    assert run.err == (
        "Kept, for they are canvases of another resolution than --dpi asks for:\n"
        f"  {out / NAMES[0]}\n"
        f"  {out / NAMES[1]}\n"
        "Build into another folder with --out to have both.\n"
    )
    after = contents(out)
    assert {name: after[name] for name in NAMES[:2]} == {name: before[name] for name in NAMES[:2]}
    report = build_issue(issue, out, dpi=DPI)
    assert report.named("other dpi") == NAMES[:2]
    assert not report.complete


def test_the_resolution_of_the_issue(tmp_path: Path) -> None:
    """Without --dpi the issue's own resolution is what is wanted, and blanks follow it."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path, FOUR_PAGES + "[format]\ndpi = 40\n"), out)
    changed = issue_file(tmp_path, FOUR_PAGES + "[format]\ndpi = 50\n")
    assert build_issue(changed, out).named("written") == NAMES
    assert build_issue(changed, out, dpi=50).named("unchanged") == NAMES


def test_another_resolution_of_a_drawing(tmp_path: Path) -> None:
    """A drawing of another resolution is kept as a drawing."""
    keep = Permissions(keep_dpi=True)
    put_all(tmp_path, 1, ["p1", "p2"], dpi=600)
    (tmp_path / "p1").write_bytes(b"art")
    outcomes = put_all(tmp_path, 2, ["p1", "p2"], keep, dpi=300)
    assert outcomes == {"p1": "kept", "p2": "other dpi"}
    assert (tmp_path / "p2").read_bytes() == data_of(1, "p2")
    assert put_all(tmp_path, 2, ["p2"], keep, dpi=600) == {"p2": "written"}
