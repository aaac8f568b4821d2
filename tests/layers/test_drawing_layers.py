"""Where the layers to draw on stand: above the borders or below, in groups, for each panel."""

from typing import Any

import pytest
from support.catalogue import PRESETS, preset_called, stack_of
from support.laid_out_pages import page, refusal

from guidekit.layers.model import Group, Layer

TWO = {"tiers": [2]}
ABOVE = {"above": "borders"}


def tree(members: tuple[Layer | Group, ...]) -> list[Any]:
    """Names from the top down, a group with what is in it as a list behind it."""
    found: list[Any] = []
    for member in members:
        found.append(member.name)
        if isinstance(member, Group) and member.name != "Guides":
            found.append(tree(member.members))
    return found


def stacked(drawing: list[Any], own: tuple[str, ...] = (), **form: Any) -> list[Any]:
    """The tree of a page of two panels whose format has these drawing layers."""
    form |= {"drawing": drawing, "panel_groups": list(own)}
    return tree(stack_of(page(TWO, format=form)).members)


def test_above_the_borders() -> None:
    """From the top: guides, layers above the borders, borders, cover, the other layers, paper."""
    drawing = ["Inks", {"name": "Balloons", **ABOVE}, "Pencils", {"name": "Letters", **ABOVE}]
    assert stacked(drawing, gutter_cover=True) == [
        "Guides", "Balloons", "Letters", "Panel borders", "Gutter cover", "Inks", "Pencils", "Paper"
    ]  # fmt: skip


@pytest.mark.parametrize("name", PRESETS)
def test_lettering_stands_above_the_borders(name: str) -> None:
    """In every shipped preset borders do not cut through balloons: Lettering is above them."""
    (above,) = [layer for layer in preset_called(name).drawing if layer.above]
    assert (above.name, above.above) == ("Lettering", "borders")
    assert str(above) == "Lettering (above the borders)"


def test_panel_groups_stand_where_they_are_listed() -> None:
    """Page-wide layers are above and below the panels' groups as the format lists them."""
    drawing = ["Inks", "Flats", "Shades", "Pencils"]
    assert stacked(drawing, ("Flats", "Shades"))[2:] == [
        "Inks",
        "Panel 1", ["Flats 1", "Shades 1"],
        "Panel 2", ["Flats 2", "Shades 2"],
        "Pencils",
        "Paper",
    ]  # fmt: skip


def test_panel_groups_with_a_layer_between() -> None:
    """Where a page-wide layer lies between them, each side has its groups, told apart by name."""
    assert stacked(["Inks", "Flats", "Pencils"], ("Inks", "Pencils"))[2:] == [
        "Panel 1 Inks", ["Inks 1"],
        "Panel 2 Inks", ["Inks 2"],
        "Flats",
        "Panel 1 Pencils", ["Pencils 1"],
        "Panel 2 Pencils", ["Pencils 2"],
        "Paper",
    ]  # fmt: skip


def test_panel_groups_above_the_borders() -> None:
    """A layer of each panel may stand above the borders too."""
    drawing = [{"name": "Letters", **ABOVE}, "Inks", "Tones"]
    assert stacked(drawing, ("Letters", "Tones"))[1:] == [
        "Panel 1 Letters", ["Letters 1"],
        "Panel 2 Letters", ["Letters 2"],
        "Panel borders",
        "Inks",
        "Panel 1 Tones", ["Tones 1"],
        "Panel 2 Tones", ["Tones 2"],
        "Paper",
    ]  # fmt: skip


def test_groups_within_panel_groups() -> None:
    """A group that the format names is there in every panel, and once for the whole page."""
    drawing = [{"name": name, "group": "Art"} for name in ("Lines", "Flats", "Shades", "Sky")]
    assert stacked(drawing, ("Flats", "Shades"))[2:] == [
        "Art", ["Lines", "Sky"],
        "Panel 1", ["Art 1", ["Flats 1", "Shades 1"]],
        "Panel 2", ["Art 2", ["Flats 2", "Shades 2"]],
        "Paper",
    ]  # fmt: skip


def test_a_group_is_in_one_place() -> None:
    """A group of which a part would lie above the borders is refused."""
    drawing = [{"name": "Letters", "group": "Art", **ABOVE}, {"name": "Inks", "group": "Art"}]
    said = refusal(TWO, format={"drawing": drawing})
    assert said == (
        "format.drawing[2]: the group Art is in part above the borders. Write drawing layers of "
        "one group that are all above the borders, or none."
    )


def test_nothing_else_to_stand_above() -> None:
    """Only the borders can be named as what a layer stands above."""
    said = refusal(TWO, format={"drawing": [{"name": "Letters", "above": "guides"}]})
    assert said == 'format.drawing[1].above: "guides" is not "borders".'
