"""What the artist has done to our layers stays: painted, moved, filled, hidden, made faint."""

from pathlib import Path

import pytest
from psd_tools.constants import ChannelID
from support.drawn_psd import DRAWN, drawn_psd, fresh, ours, refreshed
from support.painting import Page, bytes_of, paths
from support.samples import DPI, FOUR_PAGES, NAMES, WIDER, issue_file

from guidekit import build_issue


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    return drawn_psd(tmp_path)


def test_painted_guides(out: Path) -> None:
    """A guide that somebody drew on is kept beside the new ones, hidden, and told."""
    page = Page.open(out / DRAWN)
    page.paint_over(page.place("Trim"))
    page.new_layer("Notes", 3, page.place("Safe area"))
    page.save(out / DRAWN)
    before = {path: bytes_of(entry) for path, entry in paths(Page.open(out / DRAWN))}
    (file,) = refreshed(out).named("refreshed")
    after = Page.open(out / DRAWN)
    found = dict(paths(after))
    assert file.notes[0].endswith("for they are drawn on or not ours: Notes, Trim")
    for name in ("Notes", "Trim"):
        assert bytes_of(found["Guides (old)", name]) == before["Guides", name]
    assert not found["Guides (old)",][0].flags.visible
    assert ours(after) == ours(fresh(out, DRAWN, WIDER))
    assert refreshed(out).named("up to date")


def test_guides_out_of_their_group(out: Path) -> None:
    """Guides that somebody moved elsewhere stay there; that they are old by now is told, once."""
    page = Page.open(out / DRAWN)
    for name in ("Gutters", "Trim"):
        page.entries.append(page.entries.pop(page.place(name)))
    page.save(out / DRAWN)
    before = dict(paths(Page.open(out / DRAWN)))
    (file,) = refreshed(out).named("refreshed")
    after = dict(paths(Page.open(out / DRAWN)))
    assert file.notes == ("older guides outside of the group Guides stay: Gutters",)
    for name in ("Gutters", "Trim"):
        assert bytes_of(after[name,]) == bytes_of(before[name,])
        assert ("Guides", name) in after
    assert refreshed(out).named("up to date")[0].notes == ()


def test_painted_borders(out: Path) -> None:
    """Borders that somebody drew on stay as they are, and that is told."""
    page = Page.open(out / DRAWN)
    page.paint_over(page.place("Panel borders"))
    page.save(out / DRAWN)
    before = dict(paths(Page.open(out / DRAWN)))["Panel borders",]
    (file,) = refreshed(out).named("refreshed")
    assert bytes_of(dict(paths(Page.open(out / DRAWN)))["Panel borders",]) == bytes_of(before)
    assert file.notes == ("Panel borders was drawn on or changed, and stays as it is",)


def test_borders_where_none_were(tmp_path: Path) -> None:
    """A panel out to every edge has blank borders; once it is drawn in, it gets its borders."""
    out, name = tmp_path / "out", NAMES[0]
    edge = FOUR_PAGES.replace('panels = "splash"', 'panels = "splash"\npanel.1.bleed = "all"')
    build_issue(issue_file(tmp_path, edge), out, dpi=DPI)
    page = Page.open(out / name)
    page.paint(page.place("Inks"), 1)
    page.save(out / name)
    larger = edge.replace("[[pages]]", 'format.bleed = "1/4 in"\n[[pages]]', 1)
    for text in (larger, FOUR_PAGES):
        (file,) = refreshed(out, text).named("refreshed")
        assert file.notes == ()
    assert ours(Page.open(out / name)) == ours(fresh(out, name, FOUR_PAGES))


def without_alpha(page: Page, name: str) -> None:
    """A layer is opaque all over, as the lowest one of a file is without a channel of its own."""
    record, channels = page.entries[page.place(name)]
    assert record.channel_info.pop(0).id == ChannelID.TRANSPARENCY_MASK
    del channels[0]


def test_paper_without_alpha(out: Path) -> None:
    """Paper whose channel of transparency an app has left out is paper still."""
    page = Page.open(out / DRAWN)
    without_alpha(page, "Paper")
    page.save(out / DRAWN)
    wider = WIDER.replace("[[pages]]", 'format.bleed = "1/4 in"\n[[pages]]', 1)
    (file,) = refreshed(out, wider).named("refreshed")
    assert file.notes == ()
    page = Page.open(out / DRAWN)
    paper, _ = page.entries[page.place("Paper")]
    assert (paper.right, paper.bottom) == (page.psd.header.width, page.psd.header.height)


def test_guide_without_alpha(out: Path) -> None:
    """A guide that somebody filled, so that it is all opaque, is none that was rubbed out."""
    page = Page.open(out / DRAWN)
    page.paint(page.place("Safe area"), 3)
    without_alpha(page, "Safe area")
    page.save(out / DRAWN)
    before = bytes_of(page.entries[page.place("Safe area")])
    refreshed(out)
    found = dict(paths(Page.open(out / DRAWN)))
    assert bytes_of(found["Guides (old)", "Safe area"]) == before


def test_what_the_artist_set_stays(out: Path) -> None:
    """A guide that was hidden, borders that were made faint and named otherwise: they stay so."""
    page = Page.open(out / DRAWN)
    page.entries[page.place("Gutters")][0].flags.visible = False
    borders = page.entries[page.place("Panel borders")][0]
    borders.opacity = 99
    page.save(out / DRAWN)
    refreshed(out)
    found = dict(paths(Page.open(out / DRAWN)))
    assert not found["Guides", "Gutters"][0].flags.visible
    assert found["Guides", "Trim"][0].flags.visible
    assert found["Panel borders",][0].opacity == 99
