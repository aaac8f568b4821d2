"""Ruler guides lie at real straight edges, each once, and are there only where they are wanted."""

from typing import Any

import pytest
from support.catalogue import GUIDES, stack_of, writer_called
from support.laid_out_pages import issue, page, plans, refusal
from support.psd_walk import walk

from guidekit.layers.model import all_members

TRIM_AND_SAFE = ([20, 60, 580, 620], [20, 60, 780, 820])  # of the page of `laid_out_pages`


def rulers(*pages: dict[str, Any], **keys: Any) -> tuple[list[int], list[int]]:
    """The upright and the level ones of the last page."""
    across, down = stack_of(page(*pages, **keys)).rulers
    return list(across), list(down)


def with_panels(across: list[int], down: list[int]) -> tuple[list[int], list[int]]:
    """These positions and those of trim and safe area."""
    return sorted(TRIM_AND_SAFE[0] + across), sorted(TRIM_AND_SAFE[1] + down)


@pytest.mark.parametrize(
    ("layout", "across", "down"),
    [
        ({"panels": "splash"}, [], []),
        ({"tiers": [2, 1]}, [315, 325], [412, 428]),  # gutters of 10 and 16 px
        ({"tiers": [2, 2]}, [315, 325], [412, 428]),
        ({"tiers": [2, 1], "radius": "30 px"}, [315, 325], [412, 428]),
        ({"columns": [1, 1], "slant": "10 deg"}, [], []),
        ({"tiers": [1, 1], "slants": ["6 deg"]}, [], []),
        ({"tiers": [2, 2], "slants": ["6 deg"]}, [315, 325], []),
        ({"tiers": [{"panels": 2, "slant": "9 deg"}, 2]}, [315, 325], [412, 428]),
        ({"tiers": [{"panels": 2, "slant": "9 deg"}, 1]}, [], [412, 428]),
        ({"tiers": [1, 1], "panel": {"1": {"bleed": ["top"]}}}, [], [0, 412, 428]),
    ],
    ids=str,
)
def test_straight_edges(layout: dict[str, Any], across: list[int], down: list[int]) -> None:
    """Trim, safe area and panels have rulers where an edge is upright or level, worked by hand."""
    assert rulers({"panels": "splash"}, {"panels": "splash"}, layout) == with_panels(across, down)


def test_many_slanted_tiers() -> None:
    """However many tiers lean, no ruler crosses them: their boxes had one for every end."""
    leaning = {"tiers": [1] * 6, "slants": ["3 deg", "-3 deg", "4 deg", "-4 deg", "3 deg"]}
    assert rulers(leaning) == TRIM_AND_SAFE


def test_a_spread() -> None:
    """Both pages have their rulers, and the fold has one."""
    across, down = rulers({"panels": "splash"}, {"panels": "splash", "spread": True})
    assert across == [20, 60, 580, 620, 660, 1180, 1220]
    assert down == TRIM_AND_SAFE[1]


@pytest.mark.parametrize("place", ["preset", "issue", "page"])
@pytest.mark.parametrize("state", ["shown", "off"])
def test_switching(place: str, state: str) -> None:
    """Preset, issue and page switch them as they do any guide, and no layer comes of it."""
    table = {"ruler_guides": state}
    keys: dict[str, Any] = {"guides": table} if place == "issue" else {}
    keys |= {"format": {"guides": table}} if place == "preset" else {}
    layout = {"tiers": [2]} | ({"guides": table} if place == "page" else {})
    stack = stack_of(page(layout, **keys))
    assert any(stack.rulers) == (state == "shown")
    assert "Ruler guides" not in [member.name for member in all_members(stack.members)]


def test_they_cannot_be_hidden() -> None:
    """A file has no hidden ruler guides, so that word is refused with those that there are."""
    said = refusal({"tiers": [2], "guides": {"ruler_guides": "hidden"}})
    assert "ruler_guides" in said
    assert '"off" or "shown"' in said


def test_all_guides_off() -> None:
    """With every guide off there is no group Guides, and the file has no ruler guides."""
    off = dict.fromkeys(GUIDES, "off")
    stack = stack_of(plans(issue({"tiers": [2, 1]}, guides=off))[-1])
    assert "Guides" not in [member.name for member in stack.members]
    (made,) = writer_called("psd").write(stack)
    walked = walk(b"".join(made.pieces))
    assert 1032 not in walked.resources  # "Grid and guides resource format"
    assert "Guides" not in [record.unicode_name for record in walked.records]
