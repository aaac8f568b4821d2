"""Where you stand: what became of every file since it was written."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

import pytest
from support.samples import (
    DPI,
    FOUR_PAGES,
    HEAD,
    NAMES,
    RECORD,
    SPLASH,
    WIDER,
    issue_file,
    run_here,
)

from guidekit import build_issue
from guidekit.drawn.standing import seen
from guidekit.drawn.standing.status import status_issue
from guidekit.drawn.standing.status_report import FileState, StatusReport
from guidekit.store.files import find

FILES = Path(__file__).parents[1] / "files"
MIRROR = "right → left page, and art does not mirror"


@pytest.fixture
def built(tmp_path: Path) -> Path:
    """The folder of a finished build of `issue.toml` beside it."""
    build_issue(issue_file(tmp_path), tmp_path / "out", dpi=DPI)
    return tmp_path / "out"


def draw_on(path: Path) -> None:
    """What a drawing app does last: more bytes than there were."""
    path.write_bytes(path.read_bytes() + b"art")


def stand(out: Path, text: str = FOUR_PAGES) -> StatusReport:
    """The status of an issue of this text."""
    return status_issue(issue_file(out.parent, text), out, dpi=DPI)


def states(report: StatusReport) -> dict[str, str]:
    """The state of each file."""
    return {file.name: file.state for file in report.files}


def test_every_state(built: Path) -> None:
    """Each of the six states, in the order of pages, and an app's own file beside ours."""
    draw_on(built / NAMES[0])
    (built / NAMES[1]).unlink()
    (built / "salt-road-02-p003.png").write_bytes(b"a scan")
    (built / "salt-road-02-p003.app").write_bytes(b"a drawing in another format")
    (built / "notes.txt").write_bytes(b"nobody asks")
    report = stand(built, HEAD + SPLASH + "[[pages]]\ncount = 2\ntiers = [2, 3, 1]\n")
    assert states(report) == {
        NAMES[0]: "drawn",
        "salt-road-02-p002": "missing",
        NAMES[2]: "empty",
        "salt-road-02-p003.png": "unknown",
        NAMES[3]: "left over",
    }
    assert report.beside == ("salt-road-02-p003.app",)
    draw_on(built / NAMES[2])
    (changed,) = stand(built, WIDER).of("behind")
    assert changed == FileState(
        NAMES[2], "behind", "salt-road-02-p003", (3,), ("gutters 6 → 9 px", "all panels")
    )


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (lambda data: b"", "this is no PSD file, whatever its name says"),
        (lambda data: data[:-1000], "the file is damaged: it is cut off"),
        (lambda data: data[:25] + b"\4" + data[26:], "it is in CMYK, and guides are made in"),
        (lambda data: data[:23] + b"\x20" + data[24:], "it has 32 bits a channel"),
    ],
)
def test_not_to_be_read(built: Path, change: Callable[[bytes], bytes], why: str) -> None:
    """Of a page into which no guides can be put that is told, with the reason of a refresh."""
    (built / NAMES[1]).write_bytes(change((built / NAMES[1]).read_bytes()))
    for text, state in ((FOUR_PAGES, "drawn"), (WIDER, "behind")):
        (file,) = [file for file in stand(built, text).files if file.name == NAMES[1]]
        assert file.state == state
        assert file.changed[-1].startswith(f"no guides can be put into it: {why}")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("tiers = [2, 3, 1]", "tiers = [2, 3, 2]", ("panels 6 → 7",)),
        ("tiers = [2, 3, 1]", "tiers = [2, 2, 2]", ("panels 3, 4, 5, 6",)),
        ('"us-comic"', '"us-comic"\nformat.border = "0.2 in"', ("borders 1 → 6 px",)),
        ('"us-comic"', '"us-comic"\nguides.thirds = "shown"', ("thirds as usual → shown",)),
        (
            '"us-comic"',
            '"us-comic"\nformat.paper = "#fed000"',
            ("what guides and borders look like",),
        ),
        ("The Salt Road", "The salt road", ("title",)),
        (SPLASH, SPLASH + SPLASH, ("page 3 → page 4", MIRROR)),
    ],
)
def test_what_changed_in_words(built: Path, old: str, new: str, words: tuple[str, ...]) -> None:
    """What of a page is not as it was is told as those who make comics would say it."""
    name = NAMES[3] if "page 4" in words[0] else NAMES[2]
    if name == NAMES[3]:  # a page that was put in before it, and the files renamed by hand
        (built / NAMES[2]).replace(built / NAMES[3])
    draw_on(built / name)
    (behind,) = stand(built, FOUR_PAGES.replace(old, new)).of("behind")
    told = [word for word in behind.changed if not word.startswith(("canvas", "trim", "bleed"))]
    assert tuple(told[: len(words)]) == words


def test_copies_of_a_file(built: Path) -> None:
    """A copy beside a page is told of; what another issue has in the folder is not."""
    shutil.copy(built / NAMES[0], built / "salt-road-02-p001 copy.psd")
    near = FOUR_PAGES.replace("number = 2", 'file_name = "salt-road-02-plain"')
    build_issue(issue_file(built.parent, near, "near.toml"), built, dpi=DPI)
    report = stand(built)
    assert [file.name for file in report.of("left over")] == ["salt-road-02-p001 copy.psd"]
    assert report.counts == {"empty": 4, "left over": 1}


def test_cover_without_a_record(tmp_path: Path) -> None:
    """A canvas without page numbers says itself what it is."""
    issue = issue_file(
        tmp_path, FOUR_PAGES.replace("[[pages]]", "cover.wrap = false\n[[pages]]", 1)
    )
    build_issue(issue, tmp_path / "out", dpi=DPI)
    (tmp_path / "out" / RECORD).unlink()
    assert set(states(status_issue(issue, tmp_path / "out", dpi=DPI)).values()) == {"empty"}


def test_nothing_there(tmp_path: Path) -> None:
    """Before the first build every page is missing, and no folder is made."""
    report = status_issue(issue_file(tmp_path), tmp_path / "out", dpi=DPI)
    assert report.counts == {"missing": 4}
    assert not (tmp_path / "out").exists()


def test_record_lost_of_openraster(tmp_path: Path) -> None:
    """Without a record no page is missing that is there in another format than the first."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path), out, formats=["ora"], dpi=DPI)
    (out / RECORD).unlink()
    (out / NAMES[2]).with_suffix(".ora").unlink()
    assert stand(out).counts == {"empty": 3, "missing": 1}


def test_record_lost(built: Path) -> None:
    """Without a record files say whose page they are; what a build would write so is empty."""
    draw_on(built / NAMES[2])
    (built / RECORD).unlink()
    assert [file.state for file in stand(built).files] == ["empty", "empty", "drawn", "empty"]
    assert [file.state for file in stand(built, WIDER).files] == [
        "drawn",  # a splash has no gutters, but what is written into it tells of the preset's
        "behind",
        "behind",
        "drawn",  # it has gutters of its own
    ]


def test_record_of_the_first_version(built: Path) -> None:
    """A record that told nothing of canvases is read, and what files say counts."""
    record = json.loads((built / RECORD).read_bytes())
    for entry in record["files"].values():
        del entry["info"]
    (built / RECORD).write_text(json.dumps({"version": 1, "files": record["files"]}))
    draw_on(built / NAMES[2])
    assert [file.state for file in stand(built).files] == ["empty", "empty", "drawn", "empty"]
    assert stand(built, WIDER).files[2].changed == ("gutters 6 → 9 px", "all panels")


def test_a_file_of_the_first_release(tmp_path: Path) -> None:
    """A page that guidekit 0.1.0 wrote, and a raster editor saved, is known by what it says."""
    name = "tin-kite-01-p002.psd"
    (tmp_path / "out").mkdir()
    shutil.copy(FILES / f"painted-{name}", tmp_path / "out" / name)
    text = (FILES / "tin-kite.toml").read_text("utf-8")
    for dpi, changed in (("120", ()), ("100", ("resolution 120 → 100 dpi",))):
        issue = issue_file(tmp_path, text.replace("dpi = 120", f"dpi = {dpi}"))
        found = {file.name: file for file in status_issue(issue, tmp_path / "out").files}
        assert found[name].state == ("behind" if changed else "drawn")
        assert found[name].changed[:1] == changed


def test_only_what_changed_is_hashed(built: Path) -> None:
    """A second look hashes nothing but the file that was drawn on meanwhile."""
    with patch.object(seen, "YOUNG", -1):
        stand(built)
        draw_on(built / NAMES[2])
        with patch.object(seen, "find", wraps=find) as hashed:
            assert stand(built).of("drawn")[0].name == NAMES[2]
    assert [call.args[0].name for call in hashed.call_args_list] == [NAMES[2]]


@pytest.mark.parametrize(
    "data",
    [b"", b"{", b"[]", b'{"a": 1}', b'{"a": []}', b'{"a": [1e999, "x"]}', b"\xff", b"[" * 10**5],
)
def test_digests_kept_wrongly(built: Path, data: bytes) -> None:
    """Digests that cannot be read are made again."""
    (built / seen.SEEN).write_bytes(data)
    assert set(states(stand(built)).values()) == {"empty"}


@pytest.mark.parametrize(
    "info", ['{"page": 1}', '{"page": {"pages": [1], "canvas": ["a"]}}', '{"page": {}}', "{}"]
)
def test_a_file_that_says_nonsense(built: Path, info: str) -> None:
    """A description that no build wrote is none: the record is asked."""
    data = (built / NAMES[2]).read_bytes()
    begin = data.index(b'{"guides"')
    end = data.index(b"</rdf:li></rdf:Alt></dc:description>")
    (built / NAMES[2]).write_bytes(data[:begin] + info.encode().ljust(end - begin) + data[end:])
    assert stand(built).of("drawn")[0].name == NAMES[2]


def test_a_record_that_says_nonsense(built: Path) -> None:
    """What no build wrote of a canvas is not told, and stops nothing."""
    record = json.loads((built / RECORD).read_bytes())
    record["infos"] = {key: {"page": {"pages": "x"}, "guides": 1} for key in record["infos"]}
    (built / RECORD).write_text(json.dumps(record))
    assert stand(built, WIDER).counts == {"empty": 4}


def test_the_table(built: Path) -> None:
    """On the command line each state has a line with its pages, and what changed stands below."""
    draw_on(built / NAMES[1])
    run = run_here("status", issue_file(built.parent, WIDER), "--out", built, "--dpi", DPI)
    assert (run.code, run.err) == (0, "")
    assert run.out.splitlines()[:3] == [
        f"{built}: 4 canvases of the issue.",
        "  empty         3  as written: pages 1, 3-4",
        "    salt-road-02-p003.psd: gutters 6 → 9 px, all panels",
    ]
    assert run.out.splitlines()[-1] == f"    {NAMES[1]}: gutters 6 → 9 px, all panels"
    rows = json.loads(run_here("status", built.parent, "--out", built, "--dpi", DPI, "--json").out)
    assert rows["counts"] == {"empty": 3, "behind": 1}
    assert rows["files"][1] == {
        "name": NAMES[1],
        "state": "behind",
        "canvas": "salt-road-02-p002",
        "pages": [2],
        "changed": ["gutters 6 → 9 px", "all panels"],
        "moved_to": None,
    }


def test_the_same_is_told_once(built: Path) -> None:
    """What changed in the same way in several files stands in one line, with the first names."""
    tiers = FOUR_PAGES.replace('panels = "splash"', "tiers = [1, 1]").replace("[1, 2]", "[2, 2]")
    text = tiers.replace('preset = "us-comic"', 'preset = "us-comic"\nformat.border = "2 mm"')
    run = run_here("status", issue_file(built.parent, text), "--out", built, "--dpi", DPI)
    assert run.out.splitlines()[1] == "  empty         4  as written: pages 1-4"
    words = [line.partition(": ")[2] for line in run.out.splitlines()[2:]]
    assert len(words) == len({*words}) < 4
    assert f"    {NAMES[1]}, {NAMES[2]}: borders " in run.out


def test_a_build_ends_with_it(built: Path) -> None:
    """A build tells in three lines what is drawn, what is behind and what is none of its pages."""
    draw_on(built / NAMES[1])
    (built / "salt-road-02-p001.app").write_bytes(b"")
    run = run_here("build", issue_file(built.parent, WIDER), "--out", built, "--dpi", DPI)
    assert run.out.splitlines()[-3:] == [
        "4 canvases: 3 empty, 1 behind.",
        f"Behind: {NAMES[1]} (gutters 6 → 9 px; all panels).",
        "Not pages of this build: salt-road-02-p001.app.",
    ]


def test_folder_of_the_old_name(tmp_path: Path) -> None:
    """An issue of another title has another folder: where its pages lie is told until some are new.

    Folders of other issues, and such as cannot be read, are left out.
    """
    issue = issue_file(tmp_path)
    build_issue(issue, dpi=DPI)
    build_issue(issue_file(tmp_path, HEAD.replace("Salt", "Sand") + SPLASH, "other.toml"), dpi=DPI)
    (tmp_path / "broken").mkdir()
    (tmp_path / "broken" / RECORD).write_text("no record")
    old = tmp_path / "salt-road-02"
    told = (
        f"Pages of this issue lie in {old}, called as the issue once was: --out {old} means those."
    )
    assert status_issue(issue, dpi=DPI).elsewhere == ()
    issue_file(tmp_path, FOUR_PAGES.replace("Salt", "Copper"))
    for command in ("status", "refresh", "build", "status"):
        assert told in run_here(command, issue, "--dpi", DPI).out
    draw_on(tmp_path / "copper-road-02" / NAMES[0].replace("salt", "copper"))
    assert status_issue(issue, dpi=DPI).elsewhere == ()
