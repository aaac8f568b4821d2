"""New guides go into pages that are drawn on, and not a stroke is touched."""

import shutil
from pathlib import Path

import pytest
from psd_tools.constants import Compression, Resource, Tag
from support.drawn_psd import DRAWN, art, drawn_psd, fresh, ours, refreshed
from support.long import shortened
from support.painting import Page, bytes_of, name_of
from support.samples import DPI, FOUR_PAGES, NAMES, RECORD, WIDER, contents, issue_file

from guidekit import build_issue, measure_issue
from guidekit.drawn.refreshing.refresh import undo_refresh
from guidekit.drawn.standing.own_words import own_info
from guidekit.drawn.standing.status import status_issue

FILES = Path(__file__).parents[1] / "files"


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    return drawn_psd(tmp_path)


def test_new_gutters(out: Path) -> None:
    """Guides and borders are those of a fresh build, the drawing is byte for byte what it was."""
    before = Page.open(out / DRAWN)
    (file,) = refreshed(out).named("refreshed")
    after = Page.open(out / DRAWN)
    assert file.changed == ("gutters 6 → 9 px", "all panels")
    assert (file.notes, file.kept) == ((), f"before/{NAMES[1][:-4]}.1.psd")
    assert art(after) == art(before)
    assert ours(after) == ours(fresh(out, DRAWN, WIDER))
    assert status_issue(out.parent / "issue.toml", out, dpi=DPI).counts == {"empty": 3, "drawn": 1}


def test_twice_and_back(out: Path) -> None:
    """A second refresh writes nothing; one back to the old gutters gives the old guides' bytes."""
    before = Page.open(out / DRAWN)
    refreshed(out)
    there = contents(out)
    assert [file.name for file in refreshed(out).named("up to date")] == [DRAWN]
    assert contents(out) == there
    refreshed(out, FOUR_PAGES)
    after = Page.open(out / DRAWN)
    assert [bytes_of(entry) for entry in after.entries] == [bytes_of(e) for e in before.entries]
    assert (out / "before" / f"{NAMES[1][:-4]}.2.psd").exists()


def test_a_build_after_it(out: Path) -> None:
    """A refreshed page is drawn on for the next build as well, and no reason to complain."""
    refreshed(out)
    drawn = (out / DRAWN).read_bytes()
    report = build_issue(out.parent / "issue.toml", out, dpi=DPI)
    assert (report.named("drawn"), report.complete) == ((DRAWN,), True)
    build_issue(issue_file(out.parent, FOUR_PAGES), out, dpi=DPI)
    assert (out / DRAWN).read_bytes() == drawn


@pytest.mark.parametrize("text", [WIDER, FOUR_PAGES])
def test_record_lost(out: Path, text: str) -> None:
    """A refresh makes the record of a drawing anew, so that the next build knows its guides."""
    (out / RECORD).unlink()
    other = (out / DRAWN).with_suffix(".psb")  # as an app may call it
    shutil.copy(out / DRAWN, other)
    assert refreshed(out, text).complete
    drawn = (out / DRAWN).read_bytes()
    report = build_issue(out.parent / "issue.toml", out, dpi=DPI)
    assert DRAWN in report.named("drawn")
    assert (report.complete, report.left_over) == (True, ())
    if text == FOUR_PAGES:  # else nobody can say that the others had been blank
        assert report.named("unchanged") == (NAMES[0], *NAMES[2:])
    build_issue(issue_file(out.parent, WIDER.replace("0.3 in", "0.4 in")), out, dpi=DPI)
    assert (out / DRAWN).read_bytes() == drawn


def test_undo(out: Path) -> None:
    """The file that was is back; where somebody drew since, both are left."""
    drawn = (out / DRAWN).read_bytes()
    refreshed(out)
    issue = out.parent / "issue.toml"
    assert [file.outcome for file in undo_refresh(issue, out).files] == ["put back"]
    assert (out / DRAWN).read_bytes() == drawn
    assert undo_refresh(issue, out).files == ()
    refreshed(out)
    (out / DRAWN).write_bytes((out / DRAWN).read_bytes() + b"more")
    there = contents(out)
    (file,) = undo_refresh(issue, out).files
    assert (file.outcome, file.why) == ("refused", "it was drawn on since, and stays as it is")
    assert contents(out) == there


@pytest.mark.parametrize(
    ("name", "text"),
    [("tin-kite-01-p002.psd", "tin-kite.toml"), ("masked-11-p001.psd", "masked.toml")],
)
def test_pages_that_a_raster_editor_saved(tmp_path: Path, name: str, text: str) -> None:
    """Pages of the first release, painted on in an editor: all that was painted stays."""
    out = tmp_path / "out"
    out.mkdir()
    shutil.copy(FILES / f"painted-{name}", out / name)
    toml = (FILES / text).read_text("utf-8").replace("[format]", '[format]\ngutter = "0.1 in"')
    before = Page.open(out / name)
    (file,) = refreshed(out, toml, None).named("refreshed")
    after = Page.open(out / name)
    assert art(after) == art(before)
    wanted, found = ours(fresh(out, name, toml, None)), ours(after)
    guides = {path: layer for path, layer in wanted.items() if path[0] == "Guides"}
    assert {path: found[path] for path in guides} == guides
    if name.startswith("tin"):  # panels without slants and round corners: their borders are known
        assert found["Panel borders",] == wanted["Panel borders",]
    else:
        assert any(note.startswith("Panel borders was drawn on") for note in file.notes)
    (again,) = refreshed(out, toml, None).named("up to date")
    assert again.name == name


@pytest.mark.parametrize(
    "compression", [Compression.RAW, Compression.ZIP, Compression.ZIP_WITH_PREDICTION]
)
@pytest.mark.parametrize("depth", shortened([8, 16], [16]))
def test_other_ways_to_pack(out: Path, compression: Compression, depth: int) -> None:
    """Layers that a program has packed in another way are known and kept, in 16 bits as well."""
    deep = WIDER.replace("[[pages]]", "format.depth = 16\n[[pages]]", 1) if depth == 16 else WIDER
    narrow = deep.replace('\nformat.gutter = "0.3 in"', "")
    shutil.rmtree(out)
    build_issue(issue_file(out.parent, narrow), out, dpi=DPI)
    page = Page.open(out / DRAWN)
    page.paint(page.place("Inks"), 1, compression)
    repack(page, compression)
    page.save(out / DRAWN)
    before = Page.open(out / DRAWN)
    (file,) = refreshed(out, deep).named("refreshed")
    after = Page.open(out / DRAWN)
    assert file.notes == ()
    assert art(after) == art(before)
    assert ours(after) == ours(fresh(out, DRAWN, deep))


def repack(page: Page, compression: Compression) -> None:
    """Pack all layers in another way, and drop what programs drop."""
    header = page.psd.header
    for record, channels in page.entries:
        for key in (Tag.LAYER_ID, Tag.PROTECTED_SETTING, Tag.SHEET_COLOR_SETTING):
            record.tagged_blocks.pop(key, None)
        size = record.right - record.left, record.bottom - record.top
        if size[0] * size[1]:
            for channel in channels:
                data = channel.get_data(*size, header.depth, header.version)
                channel.compression = compression
                channel.set_data(data, *size, header.depth, header.version)


def test_another_bleed(out: Path) -> None:
    """With another bleed the canvas grows at its edges; the drawing stays in place on the trim."""
    page = Page.open(out / DRAWN)
    inks = page.entries[page.place("Inks")][0]
    was = inks.left, inks.top
    text = FOUR_PAGES.replace('preset = "us-comic"', 'preset = "us-comic"\nformat.bleed = "0.3 in"')
    trims = [
        measure_issue(issue_file(out.parent, t), dpi=DPI)["pages"][1]["trim"]
        for t in (FOUR_PAGES, text)
    ]
    assert len(refreshed(out, text).named("refreshed")) == 1
    after = Page.open(out / DRAWN)
    wanted = fresh(out, DRAWN, text)
    assert (after.psd.header.width, after.psd.header.height) == (
        wanted.psd.header.width,
        wanted.psd.header.height,
    )
    assert ours(after) == ours(wanted)
    inks = after.entries[after.place("Inks")][0]
    moved = trims[1][2] - trims[0][2], trims[1][1] - trims[0][1]  # a left page has its fold there
    assert (inks.left - was[0], inks.top - was[1]) == moved
    assert min(moved) > 3
    assert art(after) == art(page)


def test_a_description_in_letters_unknown(out: Path) -> None:
    """A description that no library can read is replaced by today's."""
    page = Page.open(out / DRAWN)
    packet = b"<?xml version='1.0' encoding='x-of-an-app'?><x/>"
    page.psd.image_resources[Resource.XMP_METADATA].data = packet
    page.save(out / DRAWN)
    assert own_info(out / DRAWN) is None
    assert refreshed(out).named("refreshed")
    assert own_info(out / DRAWN)


def test_names_in_order(out: Path) -> None:
    """Groups and layers are in the order of a fresh build."""
    refreshed(out)
    names = [name_of(record) for record, _ in Page.open(out / DRAWN).entries]
    assert names == [name_of(record) for record, _ in fresh(out, DRAWN, WIDER).entries]
