"""The artist's files are sacred: whatever guidekit did not write stays as it is."""

from hashlib import sha256
from pathlib import Path

import pytest
from support.samples import (
    DPI,
    FOUR_PAGES,
    HEAD,
    NAMES,
    RECORD,
    SPLASH,
    WIDER,
    Run,
    contents,
    issue_file,
    run_here,
)

from guidekit import InputError, build_issue

ART = b"many hours of drawing"
SHA_256_OF_ART = sha256(ART).hexdigest()


@pytest.fixture
def built(tmp_path: Path) -> Path:
    """The folder of a finished build of `issue.toml` beside it."""
    build_issue(issue_file(tmp_path), tmp_path / "out", dpi=DPI)
    return tmp_path / "out"


def again(out: Path, text: str = FOUR_PAGES) -> Run:
    """Another build into the folder, of this text."""
    issue = issue_file(out.parent, text)
    return run_here("build", issue, "--out", out, "--dpi", DPI)


def told(*kept: Path) -> str:
    """What standard error says of files that were kept."""
    return (
        "Kept, for they are drawn on or not guidekit's; the new canvases were not written:\n"
        + "".join(f"  {path}\n" for path in kept)
        + "guidekit refresh gives drawings the guides of now. For new canvases move these away, or "
        "build into another folder with --out.\n"
    )


def test_drawn_on(built: Path) -> None:
    """A file that was drawn on is left alone, and with its format unchanged all is well."""
    (built / NAMES[1]).write_bytes(ART)
    before = contents(built)
    run = again(built)
    first, canvases, drawn, stand = run.out.splitlines()
    assert (run.code, run.err) == (0, "")
    assert first == f"{built}: 3 unchanged, 1 drawn on and left alone."
    assert canvases.startswith("4 canvases of 206 × 315 px, ")
    assert drawn == f"  drawn on: {NAMES[1]}"
    assert stand == "4 canvases: 3 empty, 1 drawn."
    assert contents(built) == before
    report = build_issue(built.parent / "issue.toml", built, dpi=DPI)
    assert report.named("drawn") == (NAMES[1],)
    assert report.complete


def test_drawn_on_and_format_changed(built: Path) -> None:
    """A drawn page whose format changed is kept, named on standard error, and the rest written."""
    (built / NAMES[1]).write_bytes(ART)
    run = again(built, WIDER)
    assert run.code == 1
    assert run.out.startswith(f"{built}: 3 written, 1 kept.\n4 canvases of ")
    assert run.err == told(built / NAMES[1])
    assert (built / NAMES[1]).read_bytes() == ART
    report = build_issue(built.parent / "issue.toml", built, dpi=DPI)
    assert report.named("kept") == (NAMES[1],)
    assert not report.complete


def test_drawn_over_many_builds(built: Path) -> None:
    """However often and with whatever changes the issue is built, the drawing keeps its bytes."""
    (built / NAMES[1]).write_bytes(ART)
    for text in (WIDER, FOUR_PAGES, WIDER, WIDER, FOUR_PAGES):
        again(built, text)
        assert (built / NAMES[1]).read_bytes() == ART


def test_drawing_undone(built: Path) -> None:
    """A file that is again exactly as it was written counts as not drawn on."""
    blank = (built / NAMES[1]).read_bytes()
    (built / NAMES[1]).write_bytes(ART)
    again(built)
    (built / NAMES[1]).write_bytes(blank)
    assert again(built, WIDER).code == 0
    assert (built / NAMES[1]).read_bytes() not in (blank, ART)


def test_foreign_file(tmp_path: Path) -> None:
    """A file that was there before the first build is kept, and other files are not touched."""
    out = tmp_path / "out"
    out.mkdir()
    (out / NAMES[0]).write_bytes(ART)
    (out / "notes.txt").write_bytes(ART)
    (out / ".hidden").write_bytes(ART)
    run = again(out)
    assert (run.code, run.err) == (1, told(out / NAMES[0]))
    there = contents(out)
    assert {there[name] for name in (NAMES[0], "notes.txt", ".hidden")} == {SHA_256_OF_ART}
    assert set(NAMES) < set(there)


def test_folder_in_the_way(built: Path) -> None:
    """A folder with the name of a page is kept with all that is in it."""
    (built / NAMES[0]).unlink()
    (built / NAMES[0]).mkdir()
    (built / NAMES[0] / "art").write_bytes(ART)
    run = again(built, FOUR_PAGES.replace("Salt Road", "salt road"))
    assert (run.code, run.err) == (1, told(built / NAMES[0]))
    assert (built / NAMES[0] / "art").read_bytes() == ART


@pytest.mark.parametrize("target", ["drawing.psd", "blank.psd", "nowhere.psd"])
def test_symlink_in_the_way(built: Path, target: str) -> None:
    """A symbolic link is never replaced nor written through, wherever it leads."""
    elsewhere = built.parent / target
    if target == "drawing.psd":
        elsewhere.write_bytes(ART)
    elif target == "blank.psd":  # what guidekit itself wrote, moved and linked back
        (built / NAMES[1]).rename(elsewhere)
    (built / NAMES[1]).unlink(missing_ok=True)
    (built / NAMES[1]).symlink_to(elsewhere)
    before = elsewhere.read_bytes() if elsewhere.exists() else None
    run = again(built, WIDER)
    assert (run.code, run.err) == (1, told(built / NAMES[1]))
    assert (built / NAMES[1]).readlink() == elsewhere
    assert (elsewhere.read_bytes() if elsewhere.exists() else None) == before


def test_record_deleted(built: Path) -> None:
    """Without the record a drawing is still kept, and what is as built is taken back into it."""
    (built / NAMES[1]).write_bytes(ART)
    (built / RECORD).unlink()
    run = again(built)
    assert (run.code, run.out.splitlines()[0]) == (1, f"{built}: 3 unchanged, 1 kept.")
    assert run.err == told(built / NAMES[1])
    assert (built / NAMES[1]).read_bytes() == ART
    run = again(built, WIDER)
    assert run.out.startswith(f"{built}: 3 written, 1 kept.\n")
    assert (built / NAMES[1]).read_bytes() == ART


@pytest.mark.parametrize(
    "record",
    [b"", b"{", b"[]", b"{}", b'{"files": []}', b'{"files": {"a": 1}}', b"\xff", b"[" * 100_000],
    ids=lambda record: record[:12].decode(errors="replace"),
)
def test_record_broken(built: Path, record: bytes) -> None:
    """A record that cannot be read stops the build before anything is written, with what to do."""
    (built / RECORD).write_bytes(record)
    before = contents(built)
    with pytest.raises(InputError) as caught:
        build_issue(issue_file(built.parent, WIDER), built, dpi=DPI)
    assert str(caught.value) == (
        f"{built / RECORD}: this record of a build cannot be read. "
        "Delete it: the next build makes a new one, and keeps every file that differs."
    )
    assert contents(built) == before


def test_moved_away(built: Path) -> None:
    """A file that was moved away is written anew, and stays untouched where it is now."""
    (built / "inked").mkdir()
    for name in NAMES[:2]:
        (built / NAMES[0]).with_name(name).rename(built / "inked" / name)
    (built / "inked" / NAMES[1]).write_bytes(ART)
    before = contents(built / "inked")
    run = again(built)
    assert run.code == 0
    assert run.out.startswith(f"{built}: 2 written, 2 unchanged.\n")
    assert contents(built / "inked") == before


def test_drawn_layer_picture(tmp_path: Path) -> None:
    """One drawn-on picture of a folder of layers is kept, and its neighbours are written."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    build_issue(issue, out, formats=["png-layers"], dpi=DPI, pages=[2])
    drawn = next((out / "salt-road-02-p002").glob("* Gutters.png"))
    drawn.write_bytes(ART)
    report = build_issue(issue_file(tmp_path, WIDER), out, formats=["png-layers"], dpi=DPI)
    assert report.named("kept") == (drawn.relative_to(out).as_posix(),)
    assert "salt-road-02-p002/02 Panel numbers.png" in report.named("written")
    assert drawn.read_bytes() == ART


def test_pages_taken_out(built: Path) -> None:
    """Files of pages that the issue no longer has stay, drawn on or not, and are named."""
    (built / NAMES[3]).write_bytes(ART)
    before = contents(built)
    left = [f"  left over, no page makes it any more: {name}" for name in NAMES[1:]]
    first, _, *rest = again(built, HEAD + SPLASH).out.splitlines()
    assert first == f"{built}: 1 unchanged."
    assert rest[: len(left)] == left
    assert {name: contents(built)[name] for name in NAMES} == {name: before[name] for name in NAMES}
