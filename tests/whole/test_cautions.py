"""Cautions: what can cost money or a drawing is said where it matters, and only there."""

from collections.abc import Sequence
from pathlib import Path

import pytest
from support.catalogue import PRESETS, preset_called
from support.reference import reference
from support.samples import DPI, HEAD, SPLASH, issue_file, run_here

from guidekit import InputError, build_issue

SPREAD = "[[pages]]\nspread = true\npanels = 1\n"
BARE = 'title = "{}"\npreset = "bare.toml"\n'
OWN_PRESET = """\
title = "Bare"
dpi = 600
trim = { width = "1 in", height = "1 in" }
gutter = "0.1 in"
border = "1 px"
drawing = ["Inks"]
"""
FOLD = (
    ": a perfect-bound book swallows what lies in the fold. Keep faces and lettering "
    "6 to 13 mm (1/4 to 1/2 in) away from it."
)


def cautions(
    folder: Path, text: str, preset: str = "", dpi: int = DPI, formats: Sequence[str] = ("psd",)
) -> tuple[str, ...]:
    """The cautions of a build of this issue; `preset` is added to a preset that has none."""
    (folder / "bare.toml").write_text(OWN_PRESET + preset, "utf-8")
    issue = issue_file(folder, text)
    return build_issue(issue, folder / "out", dpi=dpi, formats=formats).cautions


def test_nothing_to_say(tmp_path: Path) -> None:
    """Four pages of a preset without a caution, without bleed or spreads, give no caution."""
    assert cautions(tmp_path, BARE.format("Plain") + SPLASH * 4) == ()


@pytest.mark.parametrize(
    ("bleed", "dpi", "said"),
    [
        ("0.125 in", 300, "0.125 in is 37.5 px, and files hold whole pixels: it comes out as 38"),
        ("1/8 in", 100, "0.125 in is 12.5 px, and files hold whole pixels: it comes out as 13"),
        ("0.125 in", 600, None),
        ("0.125 in", 400, None),
        ("3 mm", 300, None),
    ],
)
def test_half_a_pixel(tmp_path: Path, bleed: str, dpi: int, said: str | None) -> None:
    """A bleed that falls on half a pixel is told with the two whole numbers and a better dpi."""
    text = BARE.format("Half") + SPLASH * 4
    told = cautions(tmp_path, text, f'bleed = "{bleed}"', dpi)
    if said is None:
        assert told == ()
    else:
        whole = int(said.split()[-1])
        assert told == (
            f"At {dpi} dpi the bleed of {said} or {whole - 1} px. At {dpi * 2} dpi it is exact.",
        )


def test_half_a_pixel_once(tmp_path: Path) -> None:
    """Four edges of the same bleed give one caution, and the edge that has it is found."""
    bleed = '[bleed]\ntop = "3 px"\nbottom = "0.5 px"\ninside = "0.5 px"\noutside = "0.5 px"\n'
    assert len(cautions(tmp_path, BARE.format("Once") + SPLASH * 4, bleed)) == 1


@pytest.mark.parametrize(
    ("pages", "begins"),
    [
        (SPLASH * 4, None),
        (SPLASH + SPREAD + SPLASH, "Pages 2 and 3"),
        (SPLASH + SPREAD * 3 + SPLASH, "Pages 2-3, 4-5, 6-7"),
    ],
)
def test_spreads(tmp_path: Path, pages: str, begins: str | None) -> None:
    """A spread is told to lose what lies in its fold, once for all spreads."""
    assert cautions(tmp_path, BARE.format("Wide") + pages) == ((begins + FOLD,) if begins else ())


@pytest.mark.parametrize(("pages", "takes"), [(1, 4), (2, 4), (5, 8), (11, 12)])
def test_pages_that_do_not_fold(tmp_path: Path, pages: int, takes: int) -> None:
    """A page count that is no multiple of four is told with the number that sheets give."""
    (told,) = cautions(tmp_path, BARE.format("Odd") + SPLASH * pages)
    amount = "1 page takes" if pages == 1 else f"{pages} pages take"
    assert told == (
        "If the book is stapled: such books are printed on sheets of four pages: "
        f"{amount} {takes}, the rest blank. Ask the printer."
    )


def test_single_pages_need_no_sheets(tmp_path: Path) -> None:
    """Where pages do not face each other, any number of them will do."""
    assert cautions(tmp_path, BARE.format("Strip") + SPLASH * 5, "facing = false") == ()


@pytest.mark.parametrize(
    ("title", "missing"),
    [
        ('The Salt Road: Part (2), "Wells" & more!', None),
        ("Œuvre – ß € × 塩の道 طريق", None),
        ("The road เก", "เก"),
        ("Salt 🐪🐪", "🐪"),
        ("กขฃคฅฆงจฉชซฌญฎฏฐฑฒณด", "กขฃคฅฆงจฉชซฌญฎฏฐฑฒณด"),
        ("กขฃคฅฆงจฉชซฌญฎฏฐฑฒณดต", "กขฃคฅฆงจฉชซฌญฎฏฐฑฒณด"),
    ],
)
def test_letters_missing(tmp_path: Path, title: str, missing: str | None) -> None:
    """Letters that guidekit's fonts cannot draw are listed, each once and at most twenty."""
    told = cautions(tmp_path, BARE.format(title.replace('"', '\\"')) + SPLASH * 4)
    assert told == (
        ()
        if missing is None
        else (
            f"The page labels cannot show {missing}: guidekit's fonts lack these letters. Name a "
            "font that has them as label_font in the issue. Names of layers are not affected.",
        )
    )


def test_letters_missing_in_a_note(tmp_path: Path) -> None:
    """The note of a page is looked at like the title."""
    (told,) = cautions(tmp_path, BARE.format("Notes") + SPLASH * 4 + 'note = "ก"\n')
    assert "cannot show ก:" in told


def test_letters_missing_in_a_font(tmp_path: Path) -> None:
    """A font of the issue's own is named where it lacks letters that no other has either."""
    font = Path(str(reference("reportlab").__file__)).parent / "fonts" / "Vera.ttf"
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts" / "own.ttf").write_bytes(font.read_bytes())
    text = BARE.format("é 塩 ก") + 'label_font = "fonts/own.ttf"\n' + SPLASH * 4
    (told,) = cautions(tmp_path, text)
    assert told.startswith(
        "The page labels cannot show ก: neither fonts/own.ttf nor guidekit's own fonts have these"
    )


def test_font_that_is_none(tmp_path: Path) -> None:
    """A label font that is no font is refused as bad input before anything is written."""
    text = BARE.format("Font") + 'label_font = "bare.toml"\n' + SPLASH * 4
    with pytest.raises(InputError) as caught:
        cautions(tmp_path, text)
    assert str(caught.value) == (
        f"issue.toml, line 3, label_font: no letters can be drawn with {tmp_path / 'bare.toml'}: "
        "it has no letters that can be drawn. Name a TrueType or OpenType font."
    )
    assert not (tmp_path / "out").exists()


def of_formats(folder: Path, form: str, formats: list[str]) -> list[str]:
    """The cautions that are about formats, of one page of the bare preset with changes."""
    text = f"{BARE.format('Formats')}[format]\nfacing = false\n{form}\n{SPLASH}"
    return list(cautions(folder, text, formats=formats))


MASKED = 'panel_groups = ["Inks"]'
NO_MASKS = (
    "Format {} has no masks: what is drawn in the group of a panel shows outside of the panel "
    "too. The format psd has them."
)
NO_GREY = "Format ora has no grey: its greys are stored as red, green and blue."
EIGHT_BITS = "Format png-small holds 8 bits a channel, and not the 16 of the preset."


@pytest.mark.parametrize(
    ("form", "formats", "told"),
    [
        (MASKED, ["psd", "svg", "png"], []),
        (
            MASKED,
            ["ora", "psd", "png-layers"],
            [NO_MASKS.format("ora"), NO_MASKS.format("png-layers")],
        ),
        ('colour = "grey"', ["psd", "png", "png-small", "tiff", "png-layers"], []),
        ('colour = "grey"', ["ora"], [NO_GREY]),
        ("depth = 16", ["psd", "png", "ora", "tiff", "png-layers"], []),
        ("depth = 16", ["png-small"], [EIGHT_BITS]),
        ("", ["psd", "ora", "png-small", "png-layers"], []),
    ],
)
def test_what_a_format_cannot_hold(
    tmp_path: Path, form: str, formats: list[str], told: list[str]
) -> None:
    """Masks, grey and bits that a format has no place for are told by its name, and only then."""
    assert of_formats(tmp_path, form, formats) == told


@pytest.mark.parametrize(("height", "tall"), [(30_000, False), (30_001, True)])
def test_a_tall_canvas(tmp_path: Path, height: int, tall: bool) -> None:
    """A PSB, above 30,000 px, is told to be refused by several programs."""
    form = f'trim = {{ width = "100 px", height = "{height} px" }}\n'
    told = of_formats(tmp_path, form, ["psd", "png"])
    said = "Format psd, page 1: several programs do not open a file of 30,001 px, only up to 30,000"
    assert told == ([f"{said} px along an edge."] if tall else [])


@pytest.mark.parametrize("name", PRESETS)
def test_shipped_formats_are_no_psb(name: str) -> None:
    """No shipped preset has canvases above 30,000 px, those of scrolls included."""
    preset = preset_called(name)
    size = preset.sheet or preset.page_size
    assert max(size.width.px(preset.dpi), size.height.px(preset.dpi)) < 29_000


def test_caution_of_the_preset(tmp_path: Path) -> None:
    """What a preset warns of comes first, word for word."""
    preset = preset_called("us-comic")
    assert preset.caution
    text = HEAD + SPLASH + SPREAD
    assert cautions(tmp_path, text)[0] == preset.caution


def test_printed_where_files_are_written(tmp_path: Path) -> None:
    """The command line tells cautions once, and again when they have changed."""
    issue = issue_file(tmp_path, HEAD + SPLASH + SPREAD + 2 * SPLASH)
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI)
    lines = run.out.splitlines()
    assert lines[0] == f"{tmp_path / 'out'}: 4 written."
    assert lines[1].startswith("3 canvases of ") or lines[1].startswith("4 canvases of ")
    assert [line[:9] for line in lines[2:]] == ["Caution: "] * 3
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI)
    assert run.out.splitlines() == [f"{tmp_path / 'out'}: 4 unchanged.", lines[1]]
    issue.write_text(HEAD + SPLASH + SPREAD + 3 * SPLASH, "utf-8")  # a page that does not fold
    run = run_here("build", issue, "--out", tmp_path / "out", "--dpi", DPI)
    (news,) = run.out.splitlines()[2:]
    assert "5 pages take 8" in news or "6 pages take 8" in news


def test_only_for_the_pages_built(tmp_path: Path) -> None:
    """A spread that is not asked for is not warned of."""
    issue = issue_file(tmp_path, HEAD + SPLASH + SPREAD + SPLASH)
    for page, told in ((1, False), (2, True), (3, True), (4, False)):
        report = build_issue(issue, tmp_path / "out", dpi=DPI, pages=[page])
        assert any("in the fold" in caution for caution in report.cautions) == told
