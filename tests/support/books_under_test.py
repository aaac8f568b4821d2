"""Small issues whose canvases are built through the public path and then taken apart by readers."""

from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any

from guidekit import build_issue, measure_issue

Colour = tuple[int, int, int]

#: The title has the two characters that XML must escape.
COMIC = """
title = "Salt & <Road>"
number = 2
preset = "us-comic"
[[pages]]
tiers = [2, 3, 1]
panel.1.bleed = ["top"]
panel.6.bleed = ["bottom", "outside"]
[[pages]]
spread = true
map = \"\"\"
A A B
C D D
\"\"\"
panel.A.bleed = ["top", "outside"]
[[pages]]
panels = "splash"
panel.1.bleed = "all"
"""
MANUSCRIPT = """
title = "塩の道"
preset = "jis-b4-manuscript"
format.paper = "#fff4e0"
[[pages]]
tiers = [2, { widths = [1, 2] }]
"""
SCROLL = """
title = "Well"
preset = "vertical-scroll"
[format.scroll]
width = "400 px"
delivery_width = "200 px"
canvas_height = "3000 px"
screen = "1280 px"
[[pages]]
tiers = [1, 2, 1]
"""
COVER = f"""
title = "Covered"
preset = "us-comic"
[format]
gutter_cover = true
paper = "#f7ecd0"
drawing = ["台詞と枠線", "حبر أسود", "Tinta ✏️🖋", "Größe é", "{"長" * 250}"]
[[pages]]
tiers = [3, {{ panels = 1, height = 2 }}]
"""
BARE = """
title = "Folded"
preset = "zine-8-page"
format.border = "0 mm"
[[pages]]
tiers = [2, 2]
"""
TALL = """
title = "Stairs"
preset = "vertical-scroll"
[format]
border = "3 px"
drawing = ["Inks"]
gutter = { across = "5 px", down = "400 px" }
safe_area = { top = "0 px", bottom = "0 px", inside = "4 px", outside = "5 px" }
scroll.width = "61 px"
scroll.delivery_width = "61 px"
scroll.canvas_height = "30001 px"
scroll.screen = "2560 px"
[[pages]]
tiers = [1, 2, 3, 1]
"""
#: A page wide enough for guides of four pixels in place of two.
WIDE = """
title = "Wide"
preset = "square"
format.trim = { width = "3100 px", height = "3000 px" }
format.bleed = "20 px"
[[pages]]
tiers = [1]
"""


@dataclass(frozen=True)
class Case:
    """One canvas, and what its issue and preset say that `measure_issue` does not tell.

    `capitals` and `space` of the lettering in inches or, where there is no dpi, in pixels.
    """

    toml: str
    page: int = 1
    dpi: int | None = 100
    capitals: Fraction = Fraction(7, 96)
    space: Fraction = Fraction(7, 144)
    paper: Colour = (255, 255, 255)
    drawing: tuple[str, ...] = ("Lettering", "Inks", "Colours", "Pencils")
    grey: bool = False
    cover: bool = False
    screen: int = 0
    suffix: str = "psd"


MM = 1 / Fraction("25.4")
CASES = {
    "right page": Case(COMIC),
    "spread": Case(COMIC, page=2),
    "splash": Case(COMIC, page=4),
    "grey manuscript": Case(
        MANUSCRIPT,
        capitals=Fraction("2.1") * MM,
        space=Fraction("1.4") * MM,
        paper=(255, 244, 224),
        drawing=("Lettering", "Tones", "Inks", "Pencils"),
        grey=True,
    ),
    "scroll": Case(
        SCROLL,
        dpi=None,
        capitals=Fraction(48),
        space=Fraction(32),
        drawing=("Lettering", "Inks", "Colours", "Backgrounds", "Pencils"),
        screen=1280,
    ),
    "cover and names": Case(
        COVER,
        dpi=90,
        paper=(247, 236, 208),
        drawing=("台詞と枠線", "حبر أسود", "Tinta ✏️🖋", "Größe é", "長" * 250),
        cover=True,
    ),
    "no bleed, no border": Case(BARE, capitals=Fraction("1.8") * MM, space=Fraction("1.2") * MM),
    "tall, PSB": Case(
        TALL,
        dpi=None,
        capitals=Fraction(48),
        space=Fraction(32),
        drawing=("Inks",),
        screen=2560,
        suffix="psb",
    ),
}


@dataclass(frozen=True)
class Built:
    """A canvas in its files: where they are, and its boxes as `measure_issue` gives them."""

    case: Case
    folder: Path
    boxes: dict[str, Any] = field(hash=False)

    @property
    def layered(self) -> Path:
        """The PSD or PSB."""
        return self.folder / f"{self.boxes['file_name']}.{self.case.suffix}"

    @property
    def flat(self) -> Path:
        """The PNG of all guides."""
        return self.folder / f"{self.boxes['file_name']}.png"

    @property
    def small(self) -> Path:
        """The same PNG with a palette."""
        return self.folder / f"{self.boxes['file_name']}-small.png"

    @property
    def whole(self) -> Path:
        """The PNG of the page as it is seen."""
        return self.folder / f"{self.boxes['file_name']}-page.png"

    @property
    def single(self) -> list[Path]:
        """The PNGs of single layers, sorted by name."""
        return sorted((self.folder / self.boxes["file_name"]).iterdir())

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the canvas."""
        width, height = self.boxes["canvas"]
        return width, height


def built(case: Case, folder: Path, formats: tuple[str, ...] = ("psd",)) -> Built:
    """Write the issue into `folder` and build the case's canvas."""
    path = folder / "issue.toml"
    path.write_text(case.toml, "utf-8")
    build_issue(path, folder / "out", formats=formats, pages=[case.page], dpi=case.dpi)
    (boxes,) = measure_issue(path, pages=[case.page], dpi=case.dpi)["pages"]
    return Built(case, folder / "out", boxes)
