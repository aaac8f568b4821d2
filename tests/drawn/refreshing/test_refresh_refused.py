"""What cannot be worked on is left as it is, with one message by page; the other pages are done."""

import random
import struct
from collections.abc import Callable
from pathlib import Path

import pytest
from psd_tools.constants import Compression
from support.long import in_ci, shortened
from support.painting import Page
from support.samples import DPI, FOUR_PAGES, NAMES, RECORD, WIDER, Run, issue_file, run_here

from guidekit import build_issue

NAME, OTHER = NAMES[1], NAMES[2]


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build of which two pages are drawn on."""
    folder = tmp_path / "out"
    build_issue(issue_file(tmp_path), folder, dpi=DPI)
    for name in (NAME, OTHER):
        page = Page.open(folder / name)
        page.paint(page.place("Inks"), 1)
        page.save(folder / name)
    return folder


def refreshed(out: Path, text: str = WIDER, *options: object) -> Run:
    """A refresh on the command line, of an issue of this text."""
    issue = issue_file(out.parent, text)
    return run_here("refresh", issue, "--out", out, "--dpi", DPI, *options)


def at(place: int, form: str, *values: int) -> Callable[[bytes], bytes]:
    """Other numbers at a place of the header."""
    new = struct.pack(form, *values)
    return lambda data: data[:place] + new + data[place + len(new) :]


def with_resolution(data: bytes) -> bytes:
    """Twice the resolution in image resource 1005."""
    place = data.index(b"8BIM\x03\xed") + 12
    return at(place, ">I", 2 * DPI << 16)(data)


def many_layers(data: bytes) -> bytes:
    """A count of layers that the file cannot hold."""
    place = data.index(b"\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0", 26)
    return data[:place] + b"\x7f\xff" * 4 + data[place + 8 :]


BROKEN: list[tuple[Callable[[bytes], bytes], str]] = [
    (lambda data: b"", "this is no PSD file, whatever its name says"),
    (lambda data: b"PK" + data[2:], "this is no PSD file, whatever its name says"),
    (lambda data: data[: len(data) // 2], "the file is damaged"),
    (lambda data: data[:-1000], "the file is damaged"),
    (at(24, ">H", 4), "it is in CMYK, and guides are made in RGB or grey"),
    (at(24, ">H", 9), "it is in Lab, and guides are made in RGB or grey"),
    (at(22, ">H", 32), "it has 32 bits a channel, and guides are made with 8 or 16"),
    (at(4, ">H", 7), "the file is damaged: its version is 7"),
    (at(14, ">II", 400, 300), "the file is damaged: it is cut off"),
    (at(14, ">II", 2**31, 300), "the file is damaged: its size is none"),
    (at(26, ">I", 2**32 - 1), "the file is damaged"),
    (at(30, ">I", 2**32 - 1), "the file is damaged"),
    (with_resolution, "it says 60 dpi, and the page has 30"),
]


@pytest.mark.parametrize(("change", "told"), shortened(BROKEN, BROKEN[::2]))
def test_told_by_page(out: Path, change: Callable[[bytes], bytes], told: str) -> None:
    """The page is named with the reason, its file is untouched, and the other page is done."""
    changed = change((out / NAME).read_bytes())
    (out / NAME).write_bytes(changed)
    run = refreshed(out)
    assert run.code == 1
    (line,) = run.err.splitlines()
    assert line.startswith(f"guidekit: {NAME}, page 2: {told}")
    assert (out / NAME).read_bytes() == changed
    assert f"  {OTHER}: gutters 6 → 9 px, all panels; before: before/" in run.out


def test_told_once(out: Path) -> None:
    """What is the same of several files is told once, and a folder that is not there as such."""
    told = [name.removesuffix(".psd") for name in (NAME, OTHER)]
    before = ", ".join(f"before/{name}.1.psd" for name in told)
    assert refreshed(out).out.splitlines()[1:] == [
        f"  {NAME}, {OTHER}: gutters 6 → 9 px, all panels; before: {before}",
    ]
    run = refreshed(out / "none")
    assert (run.code, run.out) == (0, f"{out / 'none'}: there is no such folder yet.\n")


def test_any_damage(out: Path) -> None:
    """Wherever bytes of the plan of a file are others, it is done, or left with a reason."""
    random_, tries = random.Random(3), in_ci(30, first=10)
    whole = (out / NAME).read_bytes()
    end = whole.index(b"luni") + 2_000
    parts = ((26, end), (whole.index(b"8BIMnorm") - 60, end))  # all of it, and the layers' records
    (out / OTHER).unlink()
    refused = 0
    for _ in range(tries):
        data = bytearray(whole)
        place = random_.randrange(*random_.choice(parts))
        data[place : place + 4] = random_.choice([b"\xff" * 4, b"\0" * 4, b"\x7f\xff\xff\xff"])
        (out / NAME).write_bytes(data)
        run = refreshed(out)
        refused += run.code
        assert run.code in (0, 1)
        if run.code:
            assert (out / NAME).read_bytes() == data
            assert len(run.err.splitlines()) == 1
    assert refused > tries // 6


def test_another_size(out: Path) -> None:
    """A page that was cropped or enlarged in the app is left, for nobody knows what lies where."""
    page = Page.open(out / NAME)
    page.psd.header.width += 10
    page.psd.image_data.compression = Compression.RAW
    page.psd.image_data.data = bytes(3 * 216 * 315)
    page.save(out / NAME)
    run = refreshed(out)
    assert run.code == 1
    assert "it has 216 × 315 px, and was written with 206 × 315. Give it back" in run.err


def test_layer_of_any_width(out: Path) -> None:
    """A layer that says that it is wider than any takes no memory, and the other page is done."""
    page = Page.open(out / NAME)
    page.entries[page.place("Inks")][0].right = 2**31 - 1
    page.save(out / NAME)
    run = refreshed(out)
    assert run.err.startswith(f"guidekit: {NAME}, page 2: the file is damaged: a layer is larger")
    assert f"  {OTHER}: gutters 6 → 9 px" in run.out


def test_read_only(out: Path) -> None:
    """A file that may not be written to is left, and says so."""
    (out / NAME).chmod(0o444)
    before = (out / NAME).read_bytes()
    run = refreshed(out)
    told = f"guidekit: {NAME}, page 2: it is read-only. Make it writable, and run again.\n"
    assert (run.code, run.err) == (1, told)
    assert (out / NAME).read_bytes() == before


def test_not_ours(out: Path) -> None:
    """A file of somebody else's that has the name of a page gets no guides."""
    page = Page.open(out / NAME)
    del page.entries[page.place("Inks") + 1 :]
    page.psd.image_resources.clear()
    page.save(out / NAME)
    (out / RECORD).unlink()
    before = (out / NAME).read_bytes()
    run = refreshed(out)
    told = "nothing in it is guidekit's. Move it away, and build the page."
    assert f"guidekit: {NAME}, page 2: {told}" in run.err
    assert (out / NAME).read_bytes() == before


def test_of_another_issue(out: Path) -> None:
    """A page that was drawn for another issue, which is still there, is not this one's."""
    other = issue_file(out.parent, WIDER, "other.toml")
    before = (out / NAME).read_bytes()
    run = run_here("refresh", other, "--out", out, "--dpi", DPI)
    assert run.code == 1
    assert run.err.count("it was made for another issue") == 4
    assert (out / NAME).read_bytes() == before


def test_a_link(out: Path) -> None:
    """A link is no file of the folder: what it leads to is not touched."""
    (out / NAME).rename(out.parent / "elsewhere.psd")
    (out / NAME).symlink_to(out.parent / "elsewhere.psd")
    before = (out.parent / "elsewhere.psd").read_bytes()
    run = refreshed(out)
    told = "this is no file of its own. Put the file itself here."
    assert (run.code, run.err) == (1, f"guidekit: {NAME}, page 2: {told}\n")
    assert (out.parent / "elsewhere.psd").read_bytes() == before


def test_other_paper(out: Path) -> None:
    """A drawing is not enlarged or shrunk: another trim is refused with the way to go."""
    trim = 'format.trim = { width = "7 in", height = "9 in" }'
    run = refreshed(out, FOUR_PAGES.replace('preset = "us-comic"', f'preset = "us-comic"\n{trim}'))
    assert run.code == 1
    assert run.err.startswith(f"guidekit: {NAME}, page 2: its trim has 199 × 307 px and the page's")
    assert run.err.endswith("not enlarged or shrunk. Build into another folder with --out.\n")


def test_another_resolution(out: Path) -> None:
    """The same for a resolution."""
    run = run_here("refresh", out.parent / "issue.toml", "--out", out, "--dpi", 60)
    assert run.code == 1
    assert run.err.splitlines()[0] == (
        f"guidekit: {NAME}, page 2: it has 30 dpi and the page now 60, and drawings are not "
        "enlarged or shrunk. Build into another folder with --out."
    )


def test_another_page(out: Path) -> None:
    """A drawing of other panels than its page has is not paired in silence; naming it does."""
    pages = FOUR_PAGES.split("[[pages]]")
    changed = ["\ntiers = [2, 2]\n", "\ntiers = [2, 3, 1]\n"]
    text = "[[pages]]".join([*pages[:2], *changed, *pages[3:]])
    run = refreshed(out, text)
    assert run.err.splitlines()[0] == (
        f"guidekit: {NAME}, page 2: its panels are not those of page 2 any more, but those of "
        "page 3. If it is page 2 all the same, name it: --pages 2."
    )
    assert refreshed(out, text, "--pages", 2).code == 0


def test_nothing_to_put_back(out: Path) -> None:
    """Where nothing was replaced, undo says so in its own words."""
    run = run_here("refresh", out.parent / "issue.toml", "--out", out, "--undo")
    assert run == (0, f"{out}: nothing to put back.\n", "")


@pytest.mark.parametrize("option", [("--pages", 2), ("--dpi", 60), ("--dry-run",)])
def test_undo_stands_alone(out: Path, option: tuple[object, ...]) -> None:
    """What was replaced is put back as it was: no option that says more is taken in silence."""
    run = run_here("refresh", out.parent / "issue.toml", "--out", out, "--undo", *option)
    told = "guidekit: --undo puts back all that the last refresh replaced, as it was. "
    assert (run.code, run.err) == (2, f"{told}Write it alone.\n")
