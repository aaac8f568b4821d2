"""Layers to draw on that a page has gained come with a refresh, each once."""

import zipfile
from pathlib import Path

import pytest
from support.catalogue import stack_of
from support.painting import Page
from support.samples import DPI, FOUR_PAGES, NAMES, issue_file

from guidekit import build_issue
from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.ours.layer_tree import LayerNode
from guidekit.drawn.ours.new_layers import new_layers, told_blank
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.drawn.refreshing.refresh_report import RefreshReport
from guidekit.drawn.spans.source import Source
from guidekit.geometry.plan import plan_issue
from guidekit.layers.prints import TO_DRAW_ON, whole_info
from guidekit.measure import load_issue

PSD = NAMES[1]
ORA = PSD.replace(".psd", ".ora")
OLD = '"Inks", { name = "Flats", group = "Colour" }, "Pencils"'
NEW = (
    '"Inks", "Tones", { name = "Light", group = "Colour" }, { name = "Flats", group = "Colour" }, '
    '"Pencils", { name = "Sky", group = "Far" }'
)


def issue(folder: Path, layers: str, own: str = "") -> Path:
    """The issue with these layers to draw on, those that are its `own` for each panel."""
    head = 'preset = "us-comic"'
    more = f"format.drawing = [{layers}]\nformat.panel_groups = [{own}]"
    return issue_file(folder, FOUR_PAGES.replace(head, f"{head}\n{more}"))


def built(folder: Path, layers: str = OLD, own: str = "", inks: str = "Inks") -> Path:
    """A page in both formats, the PSD with a layer of the artist's own."""
    path = issue(folder, layers, own)
    build_issue(path, folder / "out", formats=["psd", "ora"], dpi=DPI, pages=[2])
    page = Page.open(folder / "out" / PSD)
    page.new_layer("Mine", 3, page.place(inks))
    page.save(folder / "out" / PSD)
    with zipfile.ZipFile(folder / "out" / ORA, "a") as file:
        file.writestr("data/brushes.json", "{}")
    return folder / "out"


def refreshed(folder: Path, layers: str = NEW, own: str = "") -> RefreshReport:
    """A refresh of the page."""
    return refresh_issue(issue(folder, layers, own), folder / "out", dpi=DPI)


def names(path: Path) -> list[object]:
    """The names of all but the guides, the uppermost first, those of a group behind its own."""

    def told(node: LayerNode) -> object:
        return node.name if node.members is None else [node.name, *map(told, node.members)]

    with path.open("rb") as file:
        source = Source(file)
        drawing = OraDrawing(source) if path.suffix == ".ora" else PsdDrawing(source)
        return [told(node) for node in drawing.members if node.name != "Guides"]


def test_come_to_their_places(tmp_path: Path) -> None:
    """In both formats new ones stand where today's page has them, and a second time none comes."""
    out = built(tmp_path)
    report = refreshed(tmp_path)
    expected = ["Panel borders", "Inks", "Tones", ["Colour", "Light", "Flats"], "Pencils"]
    expected += [["Far", "Sky"], "Paper"]
    assert names(out / ORA) == expected
    assert names(out / PSD) == ["Panel borders", "Mine", *expected[1:]]
    notes = tuple(f"new, to draw on: {name}" for name in ("Tones", "Light", "Far"))
    assert [file.notes for file in report.named("refreshed")] == [notes, notes]
    assert len(refreshed(tmp_path).named("up to date")) == 2


@pytest.mark.parametrize(
    ("old", "own", "new"),
    [
        ('"Inks", "Pencils"', '"Inks"', '"Light", "Inks", "Tones", "Pencils"'),
        ('"Inks", "Pencils"', "", '"Inks", "Light", "Tones", "Pencils"'),
        (
            '"Inks", { name = "Flats", group = "Colour" }, "Pencils"',
            '"Inks", "Flats"',
            '"Inks", { name = "Tones", group = "Colour" }, { name = "Flats", group = "Colour" }, '
            '{ name = "Light", group = "Far" }, "Pencils"',
        ),
    ],
)
def test_come_into_panels(tmp_path: Path, old: str, own: str, new: str) -> None:
    """What each panel has for itself comes into its group, as a build of today would have it."""
    out = built(tmp_path, old, own, "Inks 2" if own else "Inks")
    every = ", ".join(filter(None, (own, '"Light", "Tones"')))
    refreshed(tmp_path, new, every)
    build_issue(issue(tmp_path, new, every), tmp_path / "new", dpi=DPI, pages=[2])
    fresh = names(tmp_path / "new" / PSD)
    assert "Tones 6" in str(fresh)
    assert names(out / ORA) == fresh
    assert str(names(out / PSD)).replace("'Mine', ", "") == str(fresh)
    assert len(refreshed(tmp_path, new, every).named("up to date")) == 2


def test_taken_out_of_a_panel(tmp_path: Path) -> None:
    """A group of a panel that an artist took out stays out, whatever it would have now."""
    out = built(tmp_path, '"Inks", "Pencils"', '"Inks"', "Inks 2")
    page = Page.open(out / PSD)
    del page.entries[page.place("Panel 3") - 2 : page.place("Panel 3") + 1]
    page.save(out / PSD)
    refreshed(tmp_path, '"Inks", "Tones", "Pencils"', '"Inks", "Tones"')
    panels = [["Panel 1", "Inks 1", "Tones 1"], ["Panel 2", "Mine", "Inks 2", "Tones 2"]]
    panels += [[f"Panel {n}", f"Inks {n}", f"Tones {n}"] for n in (4, 5, 6)]
    assert names(out / PSD) == ["Panel borders", *panels, "Pencils", "Paper"]


def test_panels_of_older_builds(tmp_path: Path) -> None:
    """Where it is not told what a panel was given, nothing comes into its group."""
    stack = stack_of(plan_issue(load_issue(issue(tmp_path, OLD, '"Inks"')))[1])
    info = whole_info(stack)
    told = [name for name in info[TO_DRAW_ON] if not name[0].startswith("Panel")]
    given = told_blank(info | {TO_DRAW_ON: told})
    assert given is not None
    assert ("Panel 3",) in given
    assert [*new_layers(stack.members, (), given)] == []


def test_never_a_second_one(tmp_path: Path) -> None:
    """What an artist took out stays out, and a layer of the name of a new one stands alone."""
    out = built(tmp_path)
    page = Page.open(out / PSD)
    del page.entries[page.place("Pencils")]
    page.new_layer("Tones", 5, page.place("Inks"))
    page.save(out / PSD)
    refreshed(tmp_path, NEW.replace(', { name = "Sky", group = "Far" }', ""))
    colour = ["Colour", "Light", "Flats"]
    assert names(out / PSD) == ["Panel borders", "Mine", "Tones", "Inks", colour, "Paper"]


def test_of_older_builds(tmp_path: Path) -> None:
    """A file that does not tell which it was given gets none, and is up to date without that."""
    out = built(tmp_path)
    data = (out / PSD).read_bytes()
    assert data.count(b'"layers_to_draw_on"') == 1
    (out / PSD).write_bytes(data.replace(b'"layers_to_draw_on"', b'"somebodys_own_key"'))
    assert names(out / PSD)[:3] == ["Panel borders", "Mine", "Inks"]
    refreshed(tmp_path)
    assert "Tones" not in names(out / PSD)
