"""A build: every page is written, and written again only where something changed."""

from pathlib import Path

import pytest
from PIL import Image
from psd_tools import PSDImage
from support.samples import (
    DPI,
    FOUR_PAGES,
    NAMES,
    RECORD,
    contents,
    events_of,
    issue_file,
    run_here,
)

from guidekit import InputError, build_issue, measure_issue


@pytest.fixture
def issue(tmp_path: Path) -> Path:
    """The file of a small issue."""
    return issue_file(tmp_path)


def stamps(folder: Path) -> dict[str, tuple[int, int]]:
    """Which file lies under each name and when it was written: both change when it is replaced."""
    paths = ((path, path.stat()) for path in folder.iterdir())
    return {path.name: (stat.st_ino, stat.st_mtime_ns) for path, stat in paths}


def test_every_page(issue: Path, tmp_path: Path) -> None:
    """Each page becomes one file as large as it was measured, and the folder holds no more."""
    report = build_issue(issue, tmp_path / "out", dpi=DPI)
    assert report.files == dict.fromkeys(NAMES, "written")
    assert {path.name for path in (tmp_path / "out").iterdir()} == {*NAMES, RECORD}
    measured = measure_issue(issue, dpi=DPI)["pages"]
    assert [page["file_name"] + ".psd" for page in measured] == list(NAMES)
    for page in measured:
        opened = PSDImage.open(tmp_path / "out" / f"{page['file_name']}.psd")
        assert list(opened.size) == page["canvas"]


def test_second_run(issue: Path, tmp_path: Path) -> None:
    """A build of what has not changed writes nothing, not even the record, and says so."""
    build_issue(issue, tmp_path / "out", dpi=DPI)
    before = stamps(tmp_path / "out")
    assert build_issue(issue, tmp_path / "out", dpi=DPI).files == dict.fromkeys(NAMES, "unchanged")
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI)
    assert (run.code, run.err) == (0, "")
    assert run.out.startswith(f"{tmp_path / 'out'}: 4 unchanged.\n4 canvases of 206 × 315 px, ")
    assert "Caution" not in run.out
    assert stamps(tmp_path / "out") == before


def test_changed_gutter(issue: Path, tmp_path: Path) -> None:
    """A gutter that changes on one page writes that page and no other file but the record."""
    out = tmp_path / "out"
    build_issue(issue, out, dpi=DPI)
    before = stamps(out)
    issue.write_text(FOUR_PAGES.replace('"0.25 in"', '"0.5 in"'), "utf-8")
    report = build_issue(issue, out, dpi=DPI)
    assert report.named("written") == NAMES[3:]
    assert report.named("unchanged") == NAMES[:3]
    changed = {name for name, stamp in stamps(out).items() if before[name] != stamp}
    assert changed == {NAMES[3], RECORD}


def test_same_input_same_bytes(issue: Path, tmp_path: Path) -> None:
    """Two folders built from the same issue are equal byte for byte, record and all formats."""
    formats = ["psd", "png", "png-layers"]
    for name in ("one", "two"):
        build_issue(issue, tmp_path / name, formats=formats, dpi=DPI)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_formats_together(issue: Path, tmp_path: Path) -> None:
    """Two formats of a page come from one build, one after the other, with the same canvas."""
    report = build_issue(issue, tmp_path / "out", formats=["psd", "png", "psd"], dpi=DPI)
    pngs = [name.replace(".psd", ".png") for name in NAMES]
    assert list(report.files) == [name for pair in zip(NAMES, pngs, strict=True) for name in pair]
    for psd, png in zip(NAMES, pngs, strict=True):
        with Image.open(tmp_path / "out" / png) as picture:
            assert picture.size == PSDImage.open(tmp_path / "out" / psd).size


@pytest.mark.parametrize(
    ("pages", "numbers"), [("2", [2]), ("1,4", [1, 4]), ("3-4", [3, 4]), (" 4 , 2-3", [2, 3, 4])]
)
def test_only_some_pages(issue: Path, tmp_path: Path, pages: str, numbers: list[int]) -> None:
    """With --pages only the pages asked for are written, in the order of the book."""
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI, "--pages", pages)
    assert run.code == 0
    assert sorted(contents(tmp_path / "out")) == [RECORD, *(NAMES[n - 1] for n in numbers)]


def test_half_a_spread(tmp_path: Path) -> None:
    """Asking for either page of a spread builds the spread."""
    spread = "[[pages]]\nspread = true\npanels = 1\n"
    issue = issue_file(
        tmp_path, FOUR_PAGES.replace("[[pages]]\ncount = 2\n", spread + "[[pages]]\n")
    )
    for page in (2, 3):
        report = build_issue(issue, tmp_path / "out", pages=[page], dpi=DPI)
        assert list(report.files) == ["salt-road-02-p002-003.psd"]


@pytest.mark.parametrize("pages", ["5", "4-5", "0", "0-1", "1,99"])
def test_pages_that_are_not_there(issue: Path, tmp_path: Path, pages: str) -> None:
    """A page asked for that the issue does not have is an error, whatever else was asked for."""
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI, "--pages", pages)
    assert (run.code, run.out) == (2, "")
    assert run.err.startswith("guidekit: --pages: ")
    assert run.err.endswith("not in the issue. Take pages from 1 to 4.\n")
    assert not (tmp_path / "out").exists()


def test_another_dpi(issue: Path, tmp_path: Path) -> None:
    """With --dpi the canvas is measured and built at that resolution in place of the preset's."""
    for dpi, size in ((600, (4125, 6300)), (None, (4125, 6300)), (72, (495, 756))):
        build_issue(issue, tmp_path / str(dpi), pages=[1], dpi=dpi)
        assert PSDImage.open(tmp_path / str(dpi) / NAMES[0]).size == size


def test_folder_named_after_the_issue(
    issue: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without --out the folder is named after the issue and lies beside its file."""
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    assert build_issue(issue, pages=[1], dpi=DPI).folder == issue.parent / "salt-road-02"
    assert set(contents(issue.parent / "salt-road-02")) == {NAMES[0], RECORD}
    assert set(contents(tmp_path / "elsewhere")) == set()


def test_closing_lines(issue: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A build ends with the whole folder, how many canvases, their pixels and what they take."""
    monkeypatch.chdir(tmp_path)
    folder, canvases, *_ = run_here("build", issue, "-o", "out", "--dpi", 72).out.splitlines()
    size = sum((tmp_path / "out" / name).stat().st_size for name in NAMES)
    assert folder == f"{tmp_path / 'out'}: 4 written."
    # 6.875 × 10.5 in at 72 dpi: the trim of a US comic and 1/8 in on each side
    assert canvases == f"4 canvases of 495 × 756 px, {size / 1e6:,.1f} MB."


def test_quiet(issue: Path, tmp_path: Path) -> None:
    """With --quiet nothing is said of what was done, and all of what was not."""
    out = tmp_path / "out"
    assert run_here("build", issue, "--out", out, "--dpi", DPI, "--quiet") == (0, "", "")
    (out / NAMES[1]).write_bytes(b"drawn")
    issue.write_text(issue.read_text("utf-8") + '[format]\nborder = "2 mm"\n', "utf-8")
    run = run_here("build", issue, "-o", out, "--dpi", DPI, "-q")
    assert (run.code, run.out) == (1, "")
    assert str(out / NAMES[1]) in run.err


@pytest.mark.parametrize(
    "pages", ['pages = [{ panels = "splash" }]', '[[ pages ]]\npanels = "splash"']
)
def test_pages_in_other_spellings(tmp_path: Path, pages: str) -> None:
    """An issue in a folder is known as one however its pages are written."""
    issue_file(tmp_path, f'title = "One"\npreset = "square"\n{pages}\n')
    assert run_here("check", tmp_path).code == 0


def test_the_only_issue_in_a_folder(issue: Path, tmp_path: Path) -> None:
    """A folder stands for the issue in it; presets beside it do not count, a second issue does."""
    (issue.parent / "house.toml").write_text('based_on = "us-comic"\n', "utf-8")
    assert build_issue(issue.parent, tmp_path / "out", dpi=DPI).complete
    issue.with_name("other.toml").write_bytes(issue.read_bytes())
    run = run_here("build", issue.parent, "--out", tmp_path / "out")
    assert run.code == 2
    assert "there are 2 issues in this folder, issue.toml and other.toml" in run.err
    (tmp_path / "empty").mkdir()
    run = run_here("check", tmp_path / "empty")
    assert (run.code, "there is no issue in this folder" in run.err) == (2, True)


def test_report(issue: Path, tmp_path: Path) -> None:
    """The report tells folder, cautions, what became of each file, and that all is there."""
    report = build_issue(issue, str(tmp_path / "a" / "b"), pages=[3], dpi=DPI)
    assert report.folder == tmp_path / "a" / "b"
    assert report.files == {NAMES[2]: "written"}
    assert report.complete
    assert isinstance(report.cautions, tuple)
    assert all(caution.endswith(".") for caution in report.cautions)


def test_report_as_json(issue: Path, tmp_path: Path) -> None:
    """With --json a line tells what happens as soon as it does, and nothing is printed beside."""
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI, "--json")
    report = build_issue(issue, tmp_path / "other", dpi=DPI)
    assert (run.code, run.err) == (0, "")
    (started,) = events_of(run, "started")
    assert (started["folder"], started["canvases"]) == (str(tmp_path / "out"), 4)
    pages = events_of(run, "page")
    assert [page["files"] for page in pages] == [{name: "written"} for name in NAMES]
    assert [(page["pages"], page["done"], page["of"]) for page in pages] == [
        ([number], number, 4) for number in range(1, 5)
    ]
    assert [x["text"] for x in events_of(run, "warning")] == [*report.cautions]
    (finished,) = events_of(run, "finished")
    assert (finished["complete"], finished["left_over"]) == (True, [])
    assert finished["sizes"] == [list(size) for size in report.sizes]


def test_incomplete_as_json(issue: Path, tmp_path: Path) -> None:
    """With a page that had to be kept, a line says so, and the exit code is 1."""
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / NAMES[3]).write_bytes(b"drawn")
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI, "--json")
    assert run.code == 1
    assert events_of(run, "kept") == [{"event": "kept", "file": NAMES[3], "why": "kept"}]
    assert [x["complete"] for x in events_of(run, "finished")] == [False]


def test_progress(issue: Path, tmp_path: Path) -> None:
    """Progress is told once before each canvas and once at the end."""
    told: list[tuple[int, int]] = []
    build_issue(issue, tmp_path / "out", dpi=DPI, progress=lambda *now: told.append(now))
    assert told == [(0, 4), (1, 4), (2, 4), (3, 4), (4, 4)]


def test_unknown_format(issue: Path, tmp_path: Path) -> None:
    """A format that nobody writes is refused with the nearest name before a folder is made."""
    with pytest.raises(InputError, match=r'formats: there is no format "pngs".*mean "png"'):
        build_issue(issue, tmp_path / "out", formats=["psd", "pngs"])
    assert not (tmp_path / "out").exists()
