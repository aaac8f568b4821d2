"""Presets, layouts, guides and writers of others, through all stages and without a global thing."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from support.samples import issue_file

from guidekit import InputError, build_issue, load_issue, measure_issue
from guidekit.errors import ClashError
from guidekit.issue.models.part import Layout
from guidekit.layers.guides.kind import Guide, GuideInput
from guidekit.layers.model import Stack, all_members
from guidekit.plane.box import Box
from guidekit.preset import preset_files
from guidekit.raster.shapes import Rule, Shape
from guidekit.registry import Entry
from guidekit.shipped import FullCatalogue, shipped
from guidekit.writers.protocol import Limits, Output

OWNER = "guests of the test"
PRESET = """\
based_on = "square"
title = "Card"
dpi = 100
trim = { width = "300 px", height = "200 px" }
bleed = "0 px"
safe_area = "20 px"
gutter = "10 px"
[guides]
corner_dots = "hidden"
"""
ISSUE = """\
title = "Cards"
preset = "card"
[[pages]]
panels = "two-and-one"
[[pages]]
panels = "two-and-one"
guides = { corner_dots = "shown" }
"""


def corner_dots(given: GuideInput) -> Iterator[Shape]:
    """A dot in the upper left corner of each panel."""
    for panel in given.page.panels:
        yield Rule(Box(panel.box.left, panel.box.top, panel.box.left + 4, panel.box.top + 4))


class NamesWriter:
    """Writes the names of all groups and layers, one a line, with those hidden in brackets."""

    name = "names"

    def limits(self, dpi: int) -> Limits:
        """As good as any."""
        return Limits(1_000_000)

    def write(self, stack: Stack) -> Iterable[Output]:
        """One file of text."""
        names = (x.name if x.visible else f"({x.name})" for x in all_members(stack.members))
        yield Output(f"{stack.file_name}.txt", ["\n".join(names).encode()])


@pytest.fixture
def catalogue(tmp_path: Path) -> FullCatalogue:
    """What comes with guidekit, and one thing of each kind beside it."""
    (tmp_path / "card.toml").write_text(PRESET, "utf-8")
    dots = Guide(145, "corner_dots", "Corner dots", "off", (1, 2, 3), 100, corner_dots)
    layout = Layout.model_validate({"tiers": [2, 1], "heights": [2, 1]})
    ours = shipped()
    return replace(
        ours,
        presets=ours.presets.adding(*preset_files(tmp_path, OWNER)),
        layouts=ours.layouts.adding(Entry.of("two-and-one", OWNER, layout)),
        guides=ours.guides.adding(Entry.of("corner_dots", OWNER, dots)),
        writers=ours.writers.adding(Entry.of("names", OWNER, NamesWriter)),
    )


def test_a_build_with_all_four(tmp_path: Path, catalogue: FullCatalogue) -> None:
    """A preset, layout, guide and writer of others work as those of the house do."""
    path = issue_file(tmp_path, ISSUE)
    report = build_issue(path, tmp_path / "out", formats=["names", "png"], catalogue=catalogue)
    assert report.named("written") == (
        "cards-p001.txt", "cards-p001.png", "cards-p002.txt", "cards-p002.png",
    )  # fmt: skip
    first, second = (
        (tmp_path / "out" / name).read_text().split("\n")
        for name in ("cards-p001.txt", "cards-p002.txt")
    )
    assert "(Corner dots)" in first
    at = second.index("Corner dots")  # trim and bleed are the canvas here and show nothing
    assert second[at - 1 : at + 2] == ["Safe area", "Corner dots", "Gutters"]


def test_measuring(tmp_path: Path, catalogue: FullCatalogue) -> None:
    """A page of a preset and a layout of others: 300 × 200 px, frame 260 × 160 px.

    Two thirds of what the gutter of 10 px leaves of its height, 100 px, are the upper tier.
    """
    data = measure_issue(issue_file(tmp_path, ISSUE), catalogue=catalogue)
    assert data["pages"][0]["canvas"] == [300, 200]
    assert [panel["box"] for panel in data["pages"][0]["panels"]] == [
        [20, 20, 145, 120],
        [155, 20, 280, 120],
        [20, 130, 280, 180],
    ]
    assert load_issue(tmp_path / "issue.toml", catalogue=catalogue).preset.title == "Card"


def test_the_house_does_not_know_them(tmp_path: Path, catalogue: FullCatalogue) -> None:
    """What one build knows is unknown to the next without it: nothing global has changed."""
    measure_issue(issue_file(tmp_path, ISSUE), catalogue=catalogue)
    with pytest.raises(InputError, match='there is no preset "card"'):
        measure_issue(tmp_path / "issue.toml")
    plain = 'title = "Cards"\npreset = "us-comic"\n[[pages]]\n'
    for wrong, said in (
        ('panels = "two-and-one"', 'there is no layout "two-and-one"'),
        (
            'panels = "splash"\nguides = { corner_dots = "shown" }',
            'there is no guide "corner_dots"',
        ),
    ):
        with pytest.raises(InputError, match=said):
            measure_issue(issue_file(tmp_path, f"{plain}{wrong}\n"))
    with pytest.raises(InputError, match=r'^formats: there is no format "names"'):
        build_issue(
            issue_file(tmp_path, f'{plain}panels = "splash"\n'), tmp_path / "x", formats=["names"]
        )


def test_nearest_names_are_of_all(tmp_path: Path, catalogue: FullCatalogue) -> None:
    """Names of others are suggested beside those of the house."""
    for right, wrong in (
        ('"card"', '"crad"'),
        ('"two-and-one"', '"two-and-on"'),
        ("corner_dots", "corner_dot"),
    ):
        text = ISSUE.replace(right, wrong)
        with pytest.raises(InputError) as caught:
            measure_issue(issue_file(tmp_path, text), catalogue=catalogue)
        name = right.strip('"')
        assert f'Did you mean "{name}"?' in str(caught.value)


@pytest.mark.parametrize("kind", ["presets", "layouts", "guides", "writers"])
def test_doubles_are_refused(tmp_path: Path, catalogue: FullCatalogue, kind: str) -> None:
    """A guest that takes a name of the house is refused with both owners, and nothing is built."""
    registry = getattr(catalogue, kind)
    name = next(iter(getattr(shipped(), kind)))
    twice = replace(catalogue, **{kind: registry.adding(Entry.of(name, "a late guest", None))})
    owners = f"from {registry.entries[name].owner} and from a late guest"
    with pytest.raises(ClashError, match=f'^there are two {registry.kind}s "{name}", {owners}: '):
        build_issue(
            issue_file(tmp_path, ISSUE), tmp_path / "out", formats=["names"], catalogue=twice
        )
    assert not (tmp_path / "out").exists()


def test_an_issue_shadows_layouts_only_for_itself(tmp_path: Path) -> None:
    """An issue's own layout counts before one of the house of the same name, in that issue."""
    own = ISSUE.replace('"card"', '"us-comic"').replace("two-and-one", "splash")
    own = own.replace('guides = { corner_dots = "shown" }\n', "")
    wide = issue_file(tmp_path, f"{own}[layouts.splash]\ntiers = [1, 1]\n", "own.toml")
    assert len(measure_issue(wide)["pages"][0]["panels"]) == 2
    plain = issue_file(tmp_path, own, "plain.toml")
    assert len(measure_issue(plain)["pages"][0]["panels"]) == 1
