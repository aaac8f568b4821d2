"""Refreshed pages as other programs read them, and pages that other programs have saved."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from support.ag_psd_reader import by_ag_psd, parts
from support.long import long
from support.painting import Page, name_of, paths, pixels
from support.programs import output
from support.psd_walk import walk
from support.samples import DPI, FOUR_PAGES, NAMES, issue_file

from guidekit import build_issue
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.drawn.refreshing.refresh_report import RefreshReport

DRAWN = NAMES[1]
TALL = """
title = "Stairs"
preset = "vertical-scroll"
[format]
drawing = ["Inks"]
scroll.width = "61 px"
scroll.delivery_width = "61 px"
scroll.canvas_height = "30001 px"
scroll.screen = "2560 px"
safe_area = "4 px"
gutter = { across = "5 px", down = "400 px" }
[[pages]]
tiers = [1, 2, 3, 1]
"""


def wider(text: str = FOUR_PAGES) -> str:
    """The same issue with other gutters."""
    return text.replace('preset = "us-comic"', 'preset = "us-comic"\nformat.gutter = "0.3 in"')


def drawn(out: Path, text: str = FOUR_PAGES) -> Path:
    """A page of a build of this text, with something on two of its layers."""
    build_issue(issue_file(out.parent, text), out, dpi=DPI, pages=[2])
    page = Page.open(out / DRAWN)
    page.paint(page.place("Inks"), 1)
    page.paint(page.place("Pencils"), 2)
    page.save(out / DRAWN)
    return out / DRAWN


def refreshed(out: Path, text: str, dpi: int | None = DPI) -> RefreshReport:
    """A refresh for an issue of this text."""
    return refresh_issue(issue_file(out.parent, text), out, dpi=dpi)


def test_as_others_read_it(tmp_path: Path) -> None:
    """Every byte is accounted for; the readers find the layers, and the page that is shown."""
    path = drawn(tmp_path / "out")
    refreshed(tmp_path / "out", wider())
    walked = walk(path.read_bytes())
    names = [record.unicode_name for record in walked.records]
    assert names == [name_of(record) for record, _ in Page.open(path).entries]
    shown = np.array(walked.merged, dtype=object)
    stored = np.stack([np.frombuffer(b"".join(rows), np.uint8) for rows in shown])
    found = [part["name"] for _, part in parts(by_ag_psd(path))]
    assert found == [name[-1] for name, _ in paths(Page.open(path))]
    for program, arguments in (
        ("convert", [f"{path}[0]"]),
        ("oiiotool", [path, "--subimage", "0", "-o"]),
    ):
        output(program, *arguments, tmp_path / "seen.png")
        seen = np.asarray(Image.open(tmp_path / "seen.png").convert("RGB")).reshape(-1, 3).T
        assert (seen == stored).all()


@pytest.mark.parametrize("colour", ["rgb", "grey"])
def test_saved_by_ag_psd(tmp_path: Path, colour: str) -> None:
    """A page that ag-psd has saved, which makes grey into RGB: drawings stay, guides are new."""
    text = FOUR_PAGES.replace("[[pages]]", f'format.colour = "{colour}"\n[[pages]]', 1)
    path = drawn(tmp_path / "out", text)
    by_ag_psd(path, tmp_path / "saved.psd")
    shutil.copy(tmp_path / "saved.psd", path)
    before = Page.open(path)
    (file,) = refreshed(tmp_path / "out", wider(text)).named("refreshed")
    after = Page.open(path)
    assert file.notes == ()
    for name in ("Inks", "Pencils"):
        entries = [page.entries[page.place(name)] for page in (before, after)]
        assert pixels(entries[0], before) == pixels(entries[1], after)
    assert not any(name[0] == "Guides (old)" for name, _ in paths(after))


def test_saved_by_image_magick(tmp_path: Path) -> None:
    """A page without groups, as ImageMagick saves it: old guides go, all that is drawn stays."""
    path = drawn(tmp_path / "out")
    output("convert", path, tmp_path / "saved.psd")
    shutil.copy(tmp_path / "saved.psd", path)
    before = Page.open(path)
    (file,) = refreshed(tmp_path / "out", wider()).named("refreshed")
    after = Page.open(path)
    assert file.notes[0] == "the group of guides was not found; a new one lies on top"
    names = [name for name, _ in paths(after)]
    assert names[0] == ("Guides",)
    assert not [name for name in names if len(name) == 1 and name[0] in ("Trim", "Safe area")]
    for name in ("Inks", "Pencils"):
        entries = [page.entries[page.place(name)] for page in (before, after)]
        assert pixels(entries[0], before) == pixels(entries[1], after)


@long
def test_a_large_file(tmp_path: Path) -> None:
    """A PSB, with its longer lengths."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path, TALL), out)
    (path,) = out.glob("*.psb")
    page = Page.open(path)
    page.paint(page.place("Inks"), 1)
    page.save(path)
    before = Page.open(path)
    (file,) = refreshed(out, TALL.replace("400 px", "300 px"), None).named("refreshed")
    after = Page.open(path)
    assert file.notes == ()
    entries = [page.entries[page.place("Inks")] for page in (before, after)]
    assert pixels(entries[0], before) == pixels(entries[1], after)
    assert walk(path.read_bytes()).version == 2
