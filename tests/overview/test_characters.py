"""The issue in characters: frames, leaning edges, facing pages, right-to-left."""

from typing import Any

from support.laid_out_pages import issue
from support.samples import issue_file

from guidekit.overview.make import overview_text

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


def test_right_to_left(tmp_path: Any) -> None:
    """Page 1 is on the left, page 3 left of page 2."""
    text = overview_text(issue_file(tmp_path, issue(*PAGES, direction="rtl")), 40)
    last = text.splitlines()[-1]
    assert last.index("3 reveal") < last.index("2 blank")
