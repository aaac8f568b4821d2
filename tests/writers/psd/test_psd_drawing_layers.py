"""The layers to draw on, as readers see them: opacity, blend, groups, order, names; --layers."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from psd_tools import PSDImage
from psd_tools.api.layers import Group
from psd_tools.constants import BlendMode
from support.ag_psd_reader import by_ag_psd, parts
from support.laid_out_pages import issue
from support.picture_readers import by_imagemagick, groups_of
from support.psd_walk import walk

from guidekit import build_issue
from guidekit.errors import InputError

SMALL = {"trim": {"width": "300 px", "height": "400 px"}, "safe_area": "20 px", "bleed": "10 px"}
NAMES = [
    "台詞・吹き出し",
    "حبر أسود",
    "עברית",
    "देवनागरी",
    "Größe é ñ",
    "✏️🖋👩‍🎨",
    "& <\"'>",
    "a/b\\c",
]
TIERS = {"tiers": [2, 1]}


def build(
    folder: Path, *pages: dict[str, Any], layers: Sequence[str] = (), **form: object
) -> list[Path]:
    """The layered files of an issue with these pages, built through the public path."""
    (folder / "issue.toml").write_text(issue(*pages or (TIERS,), format=SMALL | form), "utf-8")
    build_issue(folder / "issue.toml", folder / "out", layers=layers)
    return sorted((folder / "out").glob("*.psd"))


def names(path: Path) -> list[str]:
    """All groups and layers of a file, the uppermost first, as psd-tools names them."""

    def below(group: PSDImage | Group) -> list[str]:
        inner = ([x.name, *(below(x) if isinstance(x, Group) else [])] for x in reversed(group))
        return [name for part in inner for name in part]

    return below(PSDImage.open(path))


def test_opacity(tmp_path: Path) -> None:
    """An opacity is stored as the nearest of 255 steps, the larger of two, worked out by hand."""
    stored = {"0 %": 0, "12.5 %": 32, "30 %": 77, "50 %": 128, "60 %": 153, "100 %": 255}
    layers = [{"name": text, "opacity": text} for text in stored]
    (path,) = build(tmp_path, drawing=[*layers, "Inks"])
    wanted = stored | {"Inks": 255}
    records = walk(path.read_bytes()).records
    assert {r.unicode_name: r.opacity for r in records if r.unicode_name in wanted} == wanted
    found = PSDImage.open(path).descendants()
    assert {layer.name: layer.opacity for layer in found if layer.name in wanted} == wanted
    read = {part["name"]: part["opacity"] for _, part in parts(by_ag_psd(path))}
    for name, opacity in wanted.items():
        assert read[name] == pytest.approx(opacity / 255, abs=1e-9)


def test_blend_modes(tmp_path: Path) -> None:
    """Normal and multiply are the keys "norm" and "mul " of the specification, "Layer records"."""
    drawing = [{"name": "Shadows", "blend": "multiply"}, {"name": "Flats", "blend": "normal"}]
    (path,) = build(tmp_path, drawing=drawing)
    keys = {record.unicode_name: record.blend for record in walk(path.read_bytes()).records}
    assert (keys["Shadows"], keys["Flats"]) == (b"mul ", b"norm")
    modes = {layer.name: layer.blend_mode for layer in PSDImage.open(path).descendants()}
    assert (modes["Shadows"], modes["Flats"]) == (BlendMode.MULTIPLY, BlendMode.NORMAL)
    told = {part["name"]: part["blendMode"] for _, part in parts(by_ag_psd(path))}
    assert (told["Shadows"], told["Flats"]) == ("multiply", "normal")


def test_panel_groups_have_the_layer_s_opacity_and_blend(tmp_path: Path) -> None:
    """Layers that every panel has for itself look like the one that the format lists."""
    shades = {"name": "Shades", "opacity": "40 %", "blend": "multiply"}
    (path,) = build(tmp_path, drawing=["Inks", shades], panel_groups=["Shades"])
    found = {x.name: x for x in PSDImage.open(path).descendants() if x.name.startswith("Shades")}
    assert sorted(found) == ["Shades 1", "Shades 2", "Shades 3"]
    assert {(x.opacity, x.blend_mode) for x in found.values()} == {(102, BlendMode.MULTIPLY)}


def test_groups_of_drawing_layers(tmp_path: Path) -> None:
    """Layers of one group stand together where its first one is, in the order of the format."""
    drawing = [
        "Lettering",
        {"name": "Blacks", "group": "線画"},
        "Tones",
        {"name": "Lines", "group": "線画"},
        {"name": "Sky", "group": "Back & <far>"},
    ]
    (path,) = build(tmp_path, drawing=drawing)
    tree = [(groups, part["name"]) for groups, part in parts(by_ag_psd(path))]
    first = tree.index(((), "Lettering"))
    wanted = [
        ((), "Lettering"),
        ((), "線画"),
        (("線画",), "Blacks"),
        (("線画",), "Lines"),
        ((), "Tones"),
        ((), "Back & <far>"),
        (("Back & <far>",), "Sky"),
        ((), "Paper"),
    ]
    assert tree[first:] == wanted
    opened = PSDImage.open(path)
    groups = groups_of(opened).items()
    theirs = {name: [x.name for x in reversed(group)] for name, group in groups}
    assert theirs["線画"] == ["Blacks", "Lines"]
    assert theirs["Back & <far>"] == ["Sky"]


@pytest.mark.parametrize("group", [False, True])
def test_names_in_any_script(tmp_path: Path, group: bool) -> None:
    """Layers and groups have their very names, in order, by psd-tools and by ag-psd."""
    drawing = [{"name": name, "group": f"{name} 組"} if group else name for name in NAMES]
    (path,) = build(tmp_path, drawing=drawing)
    wanted = [x for name in NAMES for x in ([f"{name} 組", name] if group else [name])]
    assert names(path)[-1 - len(wanted) : -1] == wanted  # below them the sheet
    assert [part["name"] for _, part in parts(by_ag_psd(path))][-1 - len(wanted) : -1] == wanted


def test_drawing_layers_have_no_pixels(tmp_path: Path) -> None:
    """However many drawing layers there are, ImageMagick sees no picture more."""
    (few,) = build(tmp_path, drawing=["Inks"])
    seen, records = len(by_imagemagick(few)), len(walk(few.read_bytes()).records)
    (many,) = build(tmp_path, drawing=[f"Inks {n}" for n in range(40)])
    assert len(walk(many.read_bytes()).records) == 39 + records
    assert len(by_imagemagick(many)) == seen


@pytest.mark.parametrize(
    ("chosen", "kept"),
    [
        (["Inks"], ["Inks"]),
        (["Paper", "Inks"], ["Inks", "Paper"]),
        (["Trim"], ["Guides", "Trim"]),
        (["Trim", "Lines"], ["Guides", "Trim", "Art", "Lines"]),
        (["Art", "Lines"], ["Art", "Lines", "Fills"]),
        (["Panel 2", "Shades 3"], ["Panel 2", "Shades 2", "Panel 3", "Shades 3"]),
    ],
    ids=str,
)
def test_chosen_layers(tmp_path: Path, chosen: list[str], kept: list[str]) -> None:
    """Of a stack there remain the layers that are named, their groups, and all of a named group."""
    art = [{"name": name, "group": "Art"} for name in ("Lines", "Fills")]
    drawing = ["Inks", *art, "Shades"]
    (path,) = build(tmp_path, layers=chosen, drawing=drawing, panel_groups=["Shades"])
    assert names(path) == kept


def test_a_whole_group(tmp_path: Path) -> None:
    """The group Guides brings every guide that the whole file has, and nothing else."""
    (tmp_path / "a").mkdir()
    (whole,) = build(tmp_path / "a")
    (tmp_path / "b").mkdir()
    (part,) = build(tmp_path / "b", layers=["Guides"])
    assert names(part)[0] == "Guides"
    assert names(part) == names(whole)[: len(names(part))]
    assert names(whole)[len(names(part)) :][:2] == ["Lettering", "Panel borders"]


def test_wrong_layers(tmp_path: Path) -> None:
    """Of a wrong name it is told what there is and what comes near; nothing is written."""
    with pytest.raises(InputError) as caught:
        build(tmp_path, layers=["Gides", "Inks", "trimm"], drawing=["Inks"])
    first, second = caught.value.problems
    assert 'there is no group or layer "Gides"' in str(first)
    assert 'Did you mean "Guides"?' in str(first)
    assert 'there is no group or layer "trimm"' in str(second)
    assert 'Did you mean "Trim"?' in str(second)
    for name in ("Guides", "Inks", "Paper", "Panel borders"):
        assert name in first.allowed
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("pages", [(TIERS, {"panels": 1}), ({"panels": 1}, TIERS)])
def test_layers_of_some_pages(tmp_path: Path, pages: tuple[dict[str, Any], ...]) -> None:
    """A layer that only some pages have may be named, wherever those pages are."""
    files = build(tmp_path, *pages, layers=["Construction lines", "Inks"], drawing=["Inks"])
    assert [("Construction lines" in names(path)) for path in files] == [
        "tiers" in p for p in pages
    ]
