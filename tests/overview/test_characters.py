"""The issue in characters: frames, leaning edges, facing pages, right-to-left."""

from typing import Any

from support.laid_out_pages import issue
from support.samples import issue_file

from guidekit.overview.make import overview_bytes, overview_text

PAGES: list[dict[str, Any]] = [
    {"tiers": [{"panels": 2, "slant": "20 deg"}, 1], "note": "Unseen"},
    {"kind": "blank"},
    {"tiers": [1, 2], "reveal": True},
]


def test_pages_and_what_is_said_of_them(tmp_path: Any) -> None:
    """One page, leaning; two pages with the fold between them; the reveal and its caution."""
    text = overview_text(issue_file(tmp_path, issue(*PAGES)), 40)
    assert "╱" in text
    assert "      2 blank      ┊     3 reveal !" in text
    assert all(len(line) <= 40 for line in text.splitlines())


def test_what_lies_above_is_seen(tmp_path: Any) -> None:
    """An inset is framed whole over the panels it lies over, though they are read after it."""
    inset = {
        "within": "frame",
        "at": ["30 %", "25 %"],
        "width": "40 %",
        "height": "50 %",
        "read_before": 2,
    }
    text = overview_text(issue_file(tmp_path, issue({"tiers": [1, 1], "insets": [inset]})), 40)
    assert [row.strip() for row in text.splitlines()[1:12]] == [
        "┌──────────────┐",
        "│2             │",
        "│   ┌───────┐  │",
        "│   │┌────┐ │  │",
        "└───┘│1   │ └──┘",
        "│    │",
        "┌───┐│    │ ┌──┐",
        "│3  │└────┘ │  │",
        "│   └───────┘  │",
        "│              │",
        "└──────────────┘",
    ]


def test_parts_of_a_scroll(tmp_path: Any) -> None:
    """Each part of a scroll is as wide as the others, and as tall as it takes, within reason."""
    scroll = {"scroll": [{"height": "9 screens"}, {"height": "4 screens"}]}
    path = issue_file(tmp_path, issue(scroll, preset="vertical-scroll"))
    text = overview_text(path, 30)
    assert "1, part 1" in text
    assert "1, part 2" in text
    assert len(text.splitlines()) < 150
    for ending in (".html", ".png", ".pdf"):
        assert overview_bytes(path, ending)


def test_right_to_left(tmp_path: Any) -> None:
    """Page 1 is on the left, page 3 left of page 2."""
    text = overview_text(issue_file(tmp_path, issue(*PAGES, direction="rtl")), 40)
    last = text.splitlines()[-1]
    assert last.index("3 reveal") < last.index("2 blank")
