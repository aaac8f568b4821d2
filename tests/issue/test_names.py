"""Names in any script, with slashes or very long: carried through to layers, safe as file names."""

import json
from pathlib import Path

import pytest
from psd_tools import PSDImage
from support.samples import DPI, RECORD, SPLASH, contents, issue_file

from guidekit import build_issue

SCRIPTS = ["ペン入れ", "حبر", "Тушь", "墨线 🖋️", "e\u0301", "ลายเส้น", "𝔚", "a/b", "..", "x" * 250]


def quoted(value: object) -> str:
    """Text or a list of texts as TOML writes them, which here is as JSON does."""
    return json.dumps(value, ensure_ascii=False)


def build(folder: Path, formats: list[str], **keys: object) -> list[str]:
    """The names of all files of a build of an issue with these keys."""
    given = {"title": "Names", "preset": "us-comic", **keys}
    head = "".join(f"{key} = {quoted(value)}\n" for key, value in given.items())
    issue = issue_file(folder, head + SPLASH)
    return list(build_issue(issue, folder / "out", formats=formats, dpi=DPI).files)


def layers(path: Path) -> list[str]:
    """The names of all layers of the top level, the uppermost first."""
    return [layer.name for layer in reversed(PSDImage.open(path))]


def test_layers_in_any_script(tmp_path: Path) -> None:
    """The names of drawing layers arrive as the preset has them, letter by letter and in order."""
    build(tmp_path, ["psd"], **{"format.drawing": SCRIPTS})
    names = layers(tmp_path / "out" / "names-p001.psd")
    assert names == ["Guides", "Panel borders", *SCRIPTS, "Paper"]


def test_layers_of_equal_names(tmp_path: Path) -> None:
    """Two drawing layers may have the same name, even one that guidekit uses: none is lost."""
    same = ["Inks", "Inks", "Guides", "Paper", "</Layer group>"]
    files = build(tmp_path, ["psd", "png-layers"], **{"format.drawing": same})
    names = layers(tmp_path / "out" / "names-p001.psd")
    assert names == ["Guides", "Panel borders", *same, "Paper"]
    assert len(files) == len(set(files)) == len(contents(tmp_path / "out")) - 1


def test_layer_pictures_stay_in_their_folder(tmp_path: Path) -> None:
    """Whatever a layer is called, its picture lies in the page's folder under a plain name."""
    wild = [*SCRIPTS, "../../up", "/root", "C:\\x", "a:b*?", "  . ", "é" * 200]
    files = build(tmp_path, ["png-layers"], **{"format.drawing": wild})
    there = set(contents(tmp_path / "out")) - {RECORD}
    assert there == set(files)
    assert {path.name for path in tmp_path.iterdir()} == {"issue.toml", "out"}
    for name in files:
        folder, _, file = name.partition("/")
        assert folder == "names-p001"
        assert not set(file) & set('/\\:*?"<>|')
        assert len(f".{file}.guidekit-part".encode()) <= 255


@pytest.mark.parametrize(
    ("title", "stem"),
    [
        ("塩の道", "塩の道"),
        ("طريق الملح", "طريق-الملح"),
        ("Соляной Путь", "соляной-путь"),
        ("🐪 🐪", "issue"),
        ("???", "issue"),
        ("A Road", "road"),
        ("The", "the"),
        ("../../etc/road", "etc-road"),
        ("C:\\road", "c-road"),
        ("x/b_c  d", "x-b-c-d"),
        ("नमक का रास्ता", "नमक-का-रास्ता"),
        ("ทางเกลือ", "ทางเกลือ"),
        ("Cafe\u0301", "cafe\u0301"),
    ],
)
def test_file_names(tmp_path: Path, title: str, stem: str) -> None:
    """A file name keeps letters of any script with their marks, and no signs of a path."""
    assert build(tmp_path, ["psd"], title=title) == [f"{stem}-p001.psd"]


def test_stem(tmp_path: Path) -> None:
    """An issue's own file_name takes the place of the title, and its article stays."""
    files = build(tmp_path, ["psd"], title="Long Title", file_name="../The Road", number=7)
    assert files == ["the-road-07-p001.psd"]


@pytest.mark.parametrize("letter", ["x", "é", "塩", "𝔚"])
def test_very_long_title(tmp_path: Path, letter: str) -> None:
    """The longest title gives file names of at most 255 bytes that end between two letters."""
    spread = "[[pages]]\nspread = true\npanels = 1\n"
    pages = "[[pages]]\ncount = 999\npanels = 1\n" + spread
    text = f'title = "{letter * 250}"\nnumber = 99999\npreset = "us-comic"\n{pages}'
    report = build_issue(issue_file(tmp_path, text), tmp_path / "out", pages=[1000], dpi=DPI)
    (name,) = report.files
    assert set(name.partition("-")[0]) == {letter.lower()}
    assert name.endswith("-99999-p1000-1001.psd")
    assert len(f".{name}.guidekit-part".encode()) <= 255
    assert (tmp_path / "out" / name).is_file()


def test_layer_names_of_two_hundred(tmp_path: Path) -> None:
    """A preset may have two hundred drawing layers, and all are there."""
    many = [f"Layer {number}" for number in range(200)]
    build(tmp_path, ["psd"], **{"format.drawing": many})
    assert layers(tmp_path / "out" / "names-p001.psd")[2:-1] == many
