"""The shipped presets in numbers: each is checked against a source outside guidekit."""

from fractions import Fraction as F  # noqa: N817 - read as a number, not as a name

import pytest
from support.catalogue import PRESETS, preset_called
from support.reference import reference

from guidekit.preset import Preset
from guidekit.preset.sizes import EDGE_NAMES, Size
from guidekit.units import half_up

IN = F(254, 10)  # in mm, exactly: yard and pound agreement of 1959
STANDARD_SERIES = {"a", "b", "japan", "ansi"}  # other series of that library hold trade names


def preset(name: str) -> Preset:
    """A shipped preset, checked."""
    return preset_called(name)


def size(box: Size | None) -> tuple[F, F]:
    """Width and height in exact millimetres."""
    assert box
    return box.width.mm(1), box.height.mm(1)


def safe_size(p: Preset) -> tuple[F, F]:
    """Width and height of the safe area in exact millimetres."""
    width, height = size(p.page_size)
    inside, outside, top, bottom = (
        getattr(p.safe_area, edge).mm(p.dpi) for edge in ("inside", "outside", "top", "bottom")
    )
    return width - inside - outside, height - top - bottom


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("iso-a4", "a4"), ("iso-a5", "a5"), ("jis-b5", "jis-jb5"), ("jis-b6", "jis-jb6"),
        ("jis-b4-manuscript sheet", "jis-jb4"), ("four-panel-strip sheet", "jis-jb4"),
        ("jis-a4-fanbook", "jis-jb5"), ("jis-a4-fanbook sheet", "a4"), ("us-letter", "ansi-a"),
        ("us-comic-art-board sheet", "ansi-b"),
    ],
)  # fmt: skip
def test_standard_sizes(name: str, slug: str) -> None:
    """ISO 216, JIS P 0138 and ANSI/ASME Y14.1 as papersizes-guide has them, to 1/1000 mm."""
    paper = reference("papersizes_guide").get(slug)
    assert paper.series in STANDARD_SERIES
    name, _, box = name.partition(" ")
    mine = size(getattr(preset(name), box or "trim"))
    assert mine == (F(str(paper.width_mm)), F(str(paper.height_mm)))


def test_standard_sizes_again() -> None:
    """ISO A, US letter and 11 x 17 in as reportlab has them, in points of 1/72 in."""
    sizes = reference("reportlab.lib.pagesizes")  # not its HALF_LETTER, which is 5.5 x 8 in
    for box, theirs in (
        (preset("iso-a4").trim, sizes.A4),
        (preset("iso-a5").trim, sizes.A5),
        (preset("us-letter").trim, sizes.LETTER),
        (preset("us-comic-art-board").sheet, sizes.TABLOID),
    ):
        assert [float(x / IN * 72) for x in size(box)] == pytest.approx(theirs, abs=1e-6)


def test_jis_b_again() -> None:
    """JIS B as weasyprint has it, and its ISO B5 is another size than JIS B5."""
    sizes = reference("weasyprint.css.computed_values").PAGE_SIZES
    for box, theirs in (
        (preset("jis-b4-manuscript").sheet, "jis-b4"),
        (preset("jis-b5").trim, "jis-b5"),
        (preset("jis-b6").trim, "jis-b6"),
    ):
        assert size(box) == tuple(F(str(x.value)) for x in sizes[theirs])
    assert size(preset("jis-b5").trim) != tuple(F(str(x.value)) for x in sizes["b5"])


def test_digest_is_half_a_letter() -> None:
    """PWG 5101.1 calls it na_invoice_5.5x8.5in: letter halved across its long side."""
    width, height = size(preset("us-letter").trim)
    assert size(preset("digest").trim) == (height / 2, width) == (F("5.5") * IN, F("8.5") * IN)


@pytest.mark.parametrize(
    ("name", "sheet_margins", "inner_margins", "inner"),
    [
        ("jis-b4-manuscript", (F("18.5"), F(27)), (F("38.5"), F(47)), (F(180), F(270))),
        ("four-panel-strip", (F("18.5"), F(27)), (F("38.5"), F(47)), (F(180), F(270))),
        ("jis-a4-fanbook", (F(14), F(20)), (F(30), F("38.5")), (F(150), F(220))),
    ],
)
def test_manuscript_frames(
    name: str,
    sheet_margins: tuple[F, F],
    inner_margins: tuple[F, F],
    inner: tuple[F, F],
) -> None:
    """Centred frames leave these margins to the sheet: subtracted by hand from common frames."""
    p = preset(name)
    sheet, trim, safe = size(p.sheet), size(p.trim), safe_size(p)
    assert safe == inner
    assert tuple((s - t) / 2 for s, t in zip(sheet, trim, strict=True)) == sheet_margins
    assert tuple((s - t) / 2 for s, t in zip(sheet, safe, strict=True)) == inner_margins
    assert (p.direction, p.colour) == ("rtl", "grey")


def test_manuscript_fills_the_printed_page() -> None:
    """At its scale the 220 x 310 mm frame covers JIS B5 (182 x 257 mm), exactly in height."""
    p = preset("jis-b4-manuscript")
    width, height = (x * p.scale for x in size(p.trim))
    assert height == 257
    assert 182 < width < 182 + 2 * F("0.2")
    assert {p.safe_area.top, p.safe_area.bottom, p.safe_area.inside, p.safe_area.outside} == {
        p.safe_area.top
    }
    assert p.safe_area.top.mm(p.dpi) == 20


def test_art_board() -> None:
    """Scaled to print the board gives the US comic's boxes; 10 x 15 in at 0.6 would not fit it."""
    board, book = preset("us-comic-art-board"), preset("us-comic")
    scale = board.scale
    assert tuple(x * scale for x in size(board.trim)) == size(book.trim)
    assert board.bleed.top.mm(600) * scale == book.bleed.top.mm(600)
    assert tuple(x / IN for x in safe_size(board)) == (F(9), F("13.5"))
    assert tuple(x * scale / IN for x in safe_size(board)) == (F(6), F(9))
    outer = tuple(x + 2 * book.bleed.top.mm(600) for x in size(book.trim))
    assert all(x / scale <= sheet for x, sheet in zip(outer, size(board.sheet), strict=True))
    assert all(x / F("0.6") > y for x, y in zip(size(book.trim), size(board.sheet), strict=True))


def test_us_comic() -> None:
    """The agreed values of the US comic page, and its canvas of 4125 x 6300 px with bleed."""
    p = preset("us-comic")
    assert size(p.trim) == (F("6.625") * IN, F("10.25") * IN)
    assert (p.bleed.top.mm(1), p.safe_area.top.mm(1)) == (IN / 8, IN / 4)
    assert (p.gutter.across.mm(1), p.gutter.down.mm(1)) == (F(3, 16) * IN,) * 2
    outer = [(x + 2 * IN / 8) / IN * p.dpi for x in size(p.trim)]
    assert [half_up(x) for x in outer] == [4125, 6300] == outer


@pytest.mark.parametrize(
    ("name", "sheet"), [("zine-8-page", "a4"), ("zine-8-page-letter", "letter")]
)
def test_zine_cell(name: str, sheet: str) -> None:
    """Eight cells fill the sheet of papersizes-guide: a quarter of its long side by half."""
    paper = reference("papersizes_guide").get(sheet)
    cell = (F(str(paper.height_mm)) / 4, F(str(paper.width_mm)) / 2)
    assert size(preset(name).trim) == cell
    assert preset(name).bleed.top.value == 0


def test_four_panel_strip() -> None:
    """Two columns of four in 180 x 270 mm: 85 x 64.5 mm, as CSS Grid shares out `1fr` and gaps."""
    p = preset("four-panel-strip")
    width, height = safe_size(p)
    across, down = p.gutter.across.mm(p.dpi), p.gutter.down.mm(p.dpi)
    assert ((width - across) / 2, (height - 3 * down) / 4) == (F(85), F("64.5"))


@pytest.mark.parametrize("name", PRESETS)
def test_lettering_can_be_read(name: str) -> None:
    """Capitals print 1.2 mm tall or more, as letters on labels by Regulation (EU) 1169/2011.

    The space between lines is 2/3 of the capitals, customary by NAVEDTRA 14069, chapter 3.
    """
    p = preset(name)
    capitals, space = p.lettering.capitals, p.lettering.space
    assert space.px(p.dpi) == capitals.px(p.dpi) * F(2, 3)
    assert p.scroll or capitals.mm(p.dpi) * p.scale >= F("1.2")


@pytest.mark.parametrize("name", ["jis-b4-manuscript", "jis-a4-fanbook", "jis-b5", "jis-b6"])
def test_manga_tiers_stand_apart(name: str) -> None:
    """Manga practice: gaps between tiers about twice those between panels, read from the right."""
    p = preset(name)
    assert p.gutter.down.px(p.dpi) == 2 * p.gutter.across.px(p.dpi)
    assert p.direction == "rtl"


def test_vertical_scroll() -> None:
    """Ten screens make a part that the PSD specification (30,000 px) holds; half size is whole."""
    p = preset("vertical-scroll")
    s = p.scroll
    assert s
    lengths = (s.width, s.delivery_width, s.screen, s.canvas_height)
    width, delivered, screen, part = (int(x.px(p.dpi)) for x in lengths)
    assert (width, screen, part) == (2 * delivered, 2 * 1280, 10 * screen)
    assert part < 30_000
    assert not p.facing
    drawn = [
        *(getattr(p.safe_area, edge) for edge in EDGE_NAMES),
        p.border,
        *lengths,
    ]
    assert all(x.unit == "px" and x.value % 2 == 0 for x in (*drawn, p.gutter.down))


def test_missing_reference(monkeypatch: pytest.MonkeyPatch) -> None:
    """A reference library that is missing skips a test for a user and fails it under CI."""
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="no_such_library is not here"):
        reference("no_such_library")
    monkeypatch.setenv("CI", "1")
    with pytest.raises(ModuleNotFoundError):
        reference("no_such_library")
