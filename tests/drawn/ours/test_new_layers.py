"""Layers to draw on that a page has gained come with a refresh, each once."""

import zipfile
from pathlib import Path

from support.painting import Page
from support.samples import DPI, FOUR_PAGES, NAMES, issue_file

from guidekit import build_issue
from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.ours.layer_tree import LayerNode
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.drawn.refreshing.refresh_report import RefreshReport
from guidekit.drawn.spans.source import Source

PSD = NAMES[1]
ORA = PSD.replace(".psd", ".ora")
OLD = '"Inks", { name = "Flats", group = "Colour" }, "Pencils"'
NEW = (
    '"Inks", "Tones", { name = "Light", group = "Colour" }, { name = "Flats", group = "Colour" }, '
    '"Pencils", { name = "Sky", group = "Far" }'
)


def issue(folder: Path, layers: str) -> Path:
    """The issue with these layers to draw on."""
    head = 'preset = "us-comic"'
    return issue_file(folder, FOUR_PAGES.replace(head, f"{head}\nformat.drawing = [{layers}]"))


def built(folder: Path, layers: str = OLD) -> Path:
    """A page in both formats, the PSD with a layer of the artist's own."""
    build_issue(issue(folder, layers), folder / "out", formats=["psd", "ora"], dpi=DPI, pages=[2])
    page = Page.open(folder / "out" / PSD)
    page.new_layer("Mine", 3, page.place("Inks"))
    page.save(folder / "out" / PSD)
    with zipfile.ZipFile(folder / "out" / ORA, "a") as file:
        file.writestr("data/brushes.json", "{}")
    return folder / "out"


def refreshed(folder: Path, layers: str = NEW) -> RefreshReport:
    """A refresh of the page."""
    return refresh_issue(issue(folder, layers), folder / "out", dpi=DPI)


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
