"""The sheets: nothing off the paper, nothing over anything else, as many sheets as it takes."""

from io import BytesIO
from itertools import combinations
from typing import Any

import pytest
from support.laid_out_pages import issue
from support.reference import reference
from support.samples import REPOSITORY, issue_file

from guidekit import InputError
from guidekit.overview.make import looked_over, overview_bytes
from guidekit.overview.papers import PAPERS, SCREEN
from guidekit.overview.sheet import capitals, sheets, with_lines
from guidekit.plane.box import Box
from guidekit.raster.text import text_width

SALT_ROAD = REPOSITORY / "examples" / "salt-road.toml"
SPLASH: dict[str, Any] = {"panels": "splash"}


@pytest.mark.parametrize("rtl", [False, True])
@pytest.mark.parametrize("pages", [1, 8, 24, 200])
@pytest.mark.parametrize("paper", [*PAPERS.values(), SCREEN], ids=["a4", "letter", "screen"])
def test_pages_fit(paper: Any, pages: int, rtl: bool, tmp_path: Any) -> None:
    """Every page lies inside the margins and over no other, each once, on few sheets."""
    path = issue_file(tmp_path, issue(SPLASH | {"count": pages}))
    found = sheets(looked_over(path).openings, paper, rtl)
    assert sum(len(sheet.places) for sheet in found) == pages
    for sheet in found:
        high = paper.height or sheet.bottom + paper.margin
        inside = Box(0, 0, paper.width, high).inset(paper.margin)
        boxes = [place.box(place.view.seen) for place in sheet.places]
        assert all(inside.holds(box) for box in boxes)
        assert all(a.clipped(b).is_empty for a, b in combinations(boxes, 2))
    assert len(found) == 1 or (pages == 200 and paper is not SCREEN)


@pytest.mark.parametrize("paper", [PAPERS["a4"], SCREEN], ids=["a4", "screen"])
def test_cautions_stand_below_the_pages(paper: Any, tmp_path: Any) -> None:
    """All their words, inside the margins, below all pages, on more sheets where need be."""
    path = issue_file(tmp_path, issue(SPLASH | {"count": 24}))
    found = sheets(looked_over(path).openings, paper, rtl=False)
    said = [" ".join(f"word{n}" for n in range(300)), *["Short."] * 200]
    placed = with_lines(found, said, paper)
    lines = [line for sheet in placed for line in sheet.lines]
    assert " ".join(words for words, _, _ in lines) == " ".join(said)
    for sheet in placed:
        high = paper.height or sheet.bottom + paper.margin
        lowest = max((place.box(place.view.seen).bottom for place in sheet.places), default=0)
        for words, x, y in sheet.lines:
            size = capitals(sheet.tall)
            assert x + text_width(words, size) <= paper.width - paper.margin
            assert lowest < y <= high - paper.margin - size
    assert (len(placed) > len(found)) == bool(paper.height)


def test_sections_begin_where_reading_begins(tmp_path: Any) -> None:
    """The heading of a section ends at the right margin in books that are read from there."""
    path = issue_file(tmp_path, issue(SPLASH | {"section": "The tide"}, direction="rtl"))
    (sheet,) = sheets(looked_over(path).openings, SCREEN, rtl=True)
    ((words, x, _),) = sheet.headings
    width = text_width(words, capitals(sheet.tall) * 3 // 2)
    assert x + width == SCREEN.width - SCREEN.margin


@pytest.mark.parametrize(("paper", "size"), [("a4", (842, 595)), ("letter", (792, 612))])
def test_pdf_for_the_wall(paper: str, size: tuple[int, int]) -> None:
    """Sheets of ISO A4 or US letter (ASME Y14.1), lying; the same bytes each time."""
    data = overview_bytes(SALT_ROAD, ".pdf", paper=paper)
    with reference("pikepdf").open(BytesIO(data)) as file:
        (sheet,) = file.pages
        assert [round(float(x)) for x in sheet.mediabox] == [0, 0, *size]
    assert data == overview_bytes(SALT_ROAD, ".pdf", paper=paper)


def test_png_shows_panels_where_they_are(tmp_path: Any) -> None:
    """On the picture a border is where the canvas has it, in its scale, and inside it is light."""
    picture = reference("PIL.Image").open(BytesIO(overview_bytes(SALT_ROAD, ".png")))
    assert picture.width == SCREEN.width
    grey = picture.convert("L")
    (sheet,) = sheets(looked_over(SALT_ROAD).openings, SCREEN, rtl=False)
    for place in sheet.places[3:12]:
        for panel in place.view.plan.panels:
            box = place.box(panel.box)
            beside = box.right - box.width // 6  # the number is in the other corner
            assert grey.getpixel((beside, box.top)) < 60
            assert grey.getpixel((beside, box.top + 6)) > 200


def test_too_many_panels_are_refused(tmp_path: Any) -> None:
    """A few lines that stand for very many panels are no book to look over."""
    path = issue_file(tmp_path, issue({"tiers": [3] * 3, "count": 9_999}))
    with pytest.raises(InputError, match=r"these are 89,991 panels\. Divide the issue"):
        overview_bytes(path, ".html")


@pytest.mark.parametrize(
    ("ending", "paper", "said"),
    [(".gif", "a4", ".html, .png or .pdf"), (".pdf", "a3", "a4 or letter")],
)
def test_other_kinds(ending: str, paper: str, said: str) -> None:
    """Another ending or paper is refused with those there are."""
    with pytest.raises(InputError, match=said):
        overview_bytes(SALT_ROAD, ending, paper=paper)
