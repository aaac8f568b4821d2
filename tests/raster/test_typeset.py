"""Labels in every script: shaped, joined and ordered as Pillow with libraqm and FriBidi does it."""

import random
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont, features
from support.absent import absent
from support.fonts import collection, font_file
from support.planes import plane
from support.reference import reference

from guidekit.errors import InputError
from guidekit.plane.box import Box
from guidekit.raster.face import opened
from guidekit.raster.font import STANDARD, FontFile
from guidekit.raster.text import Text, cover_text, text_width
from guidekit.raster.typeset import missing_letters, typeset

SIZE = 800  # of the letters, in pixels: so large that hinting hardly counts
TEXTS = {
    "Latin": "Élan – ß € × ï Œ fi Tiếng Việt",
    "Greek and Cyrillic": "Ωμέγα Жизнь",
    "marks to combine": "e\u0301 a\u0308 q\u0323 n\u0303",
    "Hebrew": "שלום עולם",
    "Hebrew with points": "שָׁלוֹם",
    "Arabic, joined": "طريق الملح",
    "Arabic with numbers": "طريق ١٢ 34",
    "brackets in Hebrew": "(שלום) 2",
    "English in Hebrew": "שלום page 4 עולם",
    "Hebrew in English": "The שלום עולם road",
}


def by_pillow(text: str, font: FontFile) -> np.ndarray:
    """The text as libraqm orders, HarfBuzz shapes and FreeType draws it, cropped."""
    if not features.check("raqm"):
        absent("libraqm, which Pillow may come without,")
    face = ImageFont.truetype(font.path, SIZE, layout_engine=ImageFont.Layout.RAQM)
    left, top, right, bottom = map(round, face.getbbox(text, anchor="ls"))
    image = Image.new("L", (right - left + 40, bottom - top + 40))
    ImageDraw.Draw(image).text((20 - left, 20 - top), text, 255, face, anchor="ls")
    return np.asarray(image.crop(image.getbbox()))


def ours(text: str, font: FontFile) -> np.ndarray:
    """The same text at the same size, cropped."""
    height = round(SIZE * opened(font).capitals)
    canvas = Box(-200, -SIZE, text_width(text, height) + 200, 2 * SIZE)
    return plane(cover_text(Text(text, 0, 0, height), canvas).cropped(), canvas)


def cropped(pixels: np.ndarray) -> np.ndarray:
    """The smallest part that has all that is not 0."""
    rows, columns = np.flatnonzero(pixels.any(axis=1)), np.flatnonzero(pixels.any(axis=0))
    return pixels[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_like_libraqm(text: str) -> None:
    """Letters stand where another implementation puts them; hinting moves them a little."""
    there, here = by_pillow(text, STANDARD[0]), cropped(ours(text, STANDARD[0]))
    assert np.abs(np.subtract(there.shape, here.shape)).max() <= 9
    size = np.maximum(there.shape, here.shape)
    there, here = (
        np.pad(p, [(0, m - n) for m, n in zip(size, p.shape, strict=True)]) for p in (there, here)
    )
    together = (there > 127) & (here > 127)
    assert together.sum() > 0.9 * ((there > 127) | (here > 127)).sum()


@pytest.mark.parametrize("text", ["塩の道", "カタカナー", "한국어 만화", "小金井 ２４頁"])
def test_east_asian_scripts(text: str) -> None:
    """Han, kana and hangul are in the fonts that come with guidekit."""
    assert missing_letters(text) == ""
    assert len(typeset(text, None).glyphs) == len(text)


def test_letters_of_european_languages() -> None:
    """All letters that Unicode has in Latin-1, Latin Extended-A, Greek and Cyrillic are there."""
    blocks = (range(0xA1, 0x180), range(0x386, 0x3CF), range(0x400, 0x460))
    unicodedata = reference("unicodedata")
    letters = [chr(code) for block in blocks for code in block]
    assert missing_letters("".join(c for c in letters if unicodedata.name(c, ""))) == ""


def test_a_font_stands_in(tmp_path: Path) -> None:
    """What a font named by the user has not is drawn with the fonts that come with guidekit."""
    own = FontFile(str(font_file(tmp_path / "own.ttf", "HA")))
    faces = [glyph.face.file for glyph in typeset("HéA塩", own).glyphs]
    assert faces == [own, STANDARD[0], own, STANDARD[1]]
    assert missing_letters("HéA塩\U0010fffd", own) == "\U0010fffd"


def test_width_of_spaces() -> None:
    """A space is as wide as the font says at every size, so that words stay apart when small."""
    font = reference("fontTools.ttLib").TTFont(STANDARD[0].path)
    advance = font["hmtx"]["space"][0] / font["glyf"]["H"].yMax  # in heights of capitals
    for height in (5, 7, 12, 66):
        apart = text_width("H H", height) - text_width("HH", height)
        assert abs(apart - advance * height) <= 1


@pytest.mark.parametrize("height", [7, 8, 9])
def test_gaps_at_72_dpi(height: int) -> None:
    """Between words at the size of a label at 72 dpi there are at least three empty columns."""
    text = Text("page 4 left", 0, 0, height)
    pixels = plane(cover_text(text, Box(0, 0, 200, 40)), Box(0, 0, 200, 40))
    empty = "".join(" #"[bool(column)] for column in np.any(pixels > 60, axis=0).tolist()).strip()
    assert len([gap for gap in empty.replace("#", "|").split("|") if len(gap) >= 3]) == 2


@pytest.mark.parametrize("outlines", ["glyf", "CFF"])
def test_kinds_of_outlines(tmp_path: Path, outlines: str) -> None:
    """Quadratic outlines of TrueType and cubic ones of OpenType give the same square."""
    font = FontFile(str(font_file(tmp_path / "own.otf", "H", outlines)))
    pixels = plane(cover_text(Text("H", 0, 0, 70, font), Box(0, 0, 80, 80)), Box(0, 0, 80, 80))
    assert (pixels[:70, :70] == 255).all()
    assert pixels.sum() == 255 * 70 * 70


def test_fonts_of_a_collection(tmp_path: Path) -> None:
    """Each font of a collection can be drawn with, by its number."""
    path = collection(tmp_path / "two.ttc", ("H", "First", 700), ("HA", "Second", 500))
    first, second = FontFile(str(path)), FontFile(str(path), 1)
    assert (opened(first).capitals, opened(second).capitals) == (0.7, 0.5)
    assert (opened(first).has("A"), opened(second).has("A")) == (False, True)


def test_damaged_fonts(tmp_path: Path) -> None:
    """A font with wrong bytes is refused as bad input or draws what is left of it; nothing else."""
    whole = font_file(tmp_path / "whole.ttf", "HAé").read_bytes()
    dice = random.Random(8)
    refused = 0
    for number in range(1000):
        data = bytearray(whole)
        for _ in range(dice.randint(1, 40)):
            data[dice.randrange(len(data))] = dice.randrange(256)
        path = tmp_path / f"{number}.ttf"
        path.write_bytes(data[: dice.choice([len(data), dice.randrange(len(data))])])
        try:
            cover_text(Text("HAé", 0, 0, 20, FontFile(str(path))), Box(0, 0, 99, 99))
        except InputError:
            refused += 1
    assert 0 < refused < 1000


def test_long_label_at_a_high_resolution() -> None:
    """A label of 250 letters with capitals of 1,000 pixels takes less memory than its pixels do."""
    import tracemalloc

    words = "The Salt Road, told in full " * 9
    tracemalloc.start()
    width = text_width(words[:250], 1000)
    drawn = cover_text(Text(words[:250], 0, 0, 1000), Box(0, 0, width, 1400))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert width > 100_000
    assert drawn.box.height >= 1000
    assert peak < width * 1400
