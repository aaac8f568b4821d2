"""The model of one page format, as its TOML file writes it.

Lengths are exact and keep their units. *Inside* is the edge toward the fold, *outside* the edge
away from it. The bleed is measured outward from the trim, the safe area inward.
"""

from __future__ import annotations

import re
from contextlib import suppress
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.preset.fits import problems_of
from guidekit.preset.guides import Switches
from guidekit.toml.model import Flag, Model, Name, NonNegativeLength, WholeNumber, at_most, some
from guidekit.units import Length

MOST_LAYERS = 200  # to draw on
EDGE_NAMES = ("top", "bottom", "inside", "outside")
ZERO = Length(Fraction(0), "mm")


def _a_table(data: Any) -> Any:
    """What `spell_out` could not read as a length is refused with the reason."""
    return data if isinstance(data, (dict, Model)) else Length.parse(data)


class Size(Model):
    """Width and height."""

    example: ClassVar = {"width": "6.625 in", "height": "10.25 in"}

    width: NonNegativeLength
    height: NonNegativeLength


class Edges(Model):
    """A length for each edge of the page; one length stands for all four."""

    example: ClassVar = {"top": "3 mm", "bottom": "3 mm", "inside": "0 mm", "outside": "3 mm"}
    _one_length = model_validator(mode="before")(_a_table)

    top: NonNegativeLength = ZERO
    bottom: NonNegativeLength = ZERO
    inside: NonNegativeLength = ZERO
    outside: NonNegativeLength = ZERO


class Gutter(Model):
    """The gaps: `across` between panels side by side, `down` between tiers."""

    example: ClassVar = {"across": "5 mm", "down": "8 mm"}
    _one_length = model_validator(mode="before")(_a_table)

    across: NonNegativeLength
    down: NonNegativeLength


class Lettering(Model):
    """Height of capitals, the space between two lines of them, and where lines are ruled.

    They are ruled over the ``safe_area``, or as so many `lines` at the top of each of the
    ``panels``.

    Unless the preset says otherwise: capitals of 3.5/32 in on art that prints at 2/3 (common
    practice, no source), two thirds of that between the lines (US Navy, NAVEDTRA 14069, ch. 3).
    """

    example: ClassVar = {"capitals": "3 mm", "space": "2 mm"}
    renamed: ClassVar = {"fill": 'rule_over, which is "safe_area" or "panels"'}

    capitals: NonNegativeLength = Length(Fraction(7, 96), "in")
    space: NonNegativeLength = Length(Fraction(7, 144), "in")
    rule_over: Literal["safe_area", "panels"] = "safe_area"
    lines: Annotated[WholeNumber, Field(ge=1, le=100)] = 4


class Beats(Model):
    """Gaps of a vertical scroll: within a beat, between two, and before another scene."""

    example: ClassVar = {"close": "200 px", "normal": "600 px", "scene": "1200 px"}

    close: NonNegativeLength
    normal: NonNegativeLength
    scene: NonNegativeLength


class Scroll(Model):
    """What a vertical-scroll episode needs in place of a trim; lengths at drawing size.

    `canvas_height` is the most one canvas may have, `screen` the height of one delivered slice
    as drawn, `delivery_width` the width at which readers receive it, `gaps` what lies between
    panels.
    """

    example: ClassVar = {
        "width": "1600 px",
        "canvas_height": "25600 px",
        "screen": "2560 px",
        "delivery_width": "800 px",
        "gaps": Beats.example,
    }
    renamed: ClassVar = {"part": "canvas_height"}

    width: NonNegativeLength
    canvas_height: NonNegativeLength
    screen: NonNegativeLength
    delivery_width: NonNegativeLength
    gaps: Beats


class Start(Model):
    """What a new issue begins with: so many pages, the layout of the first and that of the others.

    Unless the preset says otherwise: a first page of one large panel, then pages of six in three
    tiers, for five to nine are usual (common practice, no source).
    """

    pages: Annotated[WholeNumber, Field(ge=1, le=9_999)] = 24
    first: Name = "splash"
    others: Name = "tiers-2-3-1"


_ONE_FOR_ALL = {"bleed": EDGE_NAMES, "safe_area": EDGE_NAMES, "gutter": ("across", "down")}


def spell_out(data: dict[str, Any]) -> dict[str, Any]:
    """One length for all edges, or for both gutters, written out as the table it stands for.

    American spellings become British ones.
    """
    data = dict(data)
    if "color" in data and "colour" not in data:
        data["colour"] = data.pop("color")
    if data.get("colour") == "gray":
        data["colour"] = "grey"
    for key, names in (
        ("bleed", EDGE_NAMES),
        ("safe_area", EDGE_NAMES),
        ("gutter", ("across", "down")),
    ):
        with suppress(ValueError):
            data[key] = dict.fromkeys(names, Length.parse(data.get(key)))
    return data


def _colour(value: object) -> str:
    if not (isinstance(value, str) and re.fullmatch(r"#[0-9a-fA-F]{6}", value)):
        allowed = 'six hexadecimal digits, as in "#ffffff"'
        raise WrongValueError(f"{shown(value)} is not a colour", allowed)
    return value.lower()


def _ratio(value: object) -> Fraction:
    allowed = 'a ratio above 0 in quotes, as in "2/3" or "0.6"'
    pattern = r"\d{1,6}(/(0|[1-9]\d{0,5})|\.\d{1,6})?"
    if not (isinstance(value, str) and re.fullmatch(pattern, value)):
        raise WrongValueError(f"{shown(value)} is not a ratio", allowed)
    if value.endswith("/0") or not (ratio := Fraction(value)):
        raise WrongValueError(f"{shown(value)} is not above 0", allowed)
    return ratio


HexColour = Annotated[str, BeforeValidator(_colour)]
Ratio = Annotated[Fraction, BeforeValidator(_ratio)]


def _percent(value: object) -> Fraction:
    found = isinstance(value, str) and re.fullmatch(r"(\d{1,3}(?:\.\d{1,4})?)\s*%", value.strip())
    if not found or Fraction(found[1]) > 100:
        allowed = 'a percentage from 0 to 100, as in "60 %"'
        raise WrongValueError(f"{shown(value)} is not a percentage", allowed)
    return Fraction(found[1])


class DrawingLayer(Model):
    """An empty layer to draw on; a bare name stands for one at full opacity, in no group.

    It lies under the panel borders, or `above` them.
    """

    example: ClassVar = {"name": "Inks", "opacity": "60 %"}

    name: Name
    opacity: Annotated[Fraction, BeforeValidator(_percent)] = Fraction(100)
    blend: Literal["normal", "multiply"] = "normal"
    group: Name | None = None
    above: Literal["borders"] | None = None

    @model_validator(mode="before")
    @classmethod
    def _bare_name(cls, data: Any) -> Any:
        return data if isinstance(data, (dict, Model)) else {"name": data}

    def __str__(self) -> str:
        words = [] if self.opacity == 100 else [f"{self.opacity} %"]
        words += [] if self.blend == "normal" else [self.blend]
        words += [f"in {self.group}"] if self.group else []
        words += [f"above the {self.above}"] if self.above else []
        return f"{self.name} ({', '.join(words)})" if words else self.name


class Preset(Model):
    """One page format: everything that all pages of an issue have in common."""

    also_known: ClassVar = ("based_on",)
    example: ClassVar = {
        "title": "Our format",
        "dpi": 600,
        "trim": Size.example,
        "gutter": "5 mm",
        "border": "1 mm",
        "drawing": ["Pencils", "Inks"],
    }
    renamed: ClassVar = {
        "safe": "safe_area",
        "pages": "facing = true, or false for single pages",
        "equal": 'spare_pixels, which is "shared" or "margin"',
        "extends": "based_on",
    }

    title: Name
    about: str = ""
    caution: str = ""
    facing: Flag = True
    direction: Literal["ltr", "rtl"] = "ltr"
    dpi: Annotated[WholeNumber, Field(ge=1, le=10_000)]
    colour: Literal["rgb", "grey"] = "rgb"
    paper: HexColour = "#ffffff"
    trim: Size | None = None
    sheet: Size | None = None
    scroll: Scroll | None = None
    scale: Ratio = Fraction(1)
    bleed: Edges = Edges.model_construct()
    safe_area: Edges = Edges.model_construct()
    gutter: Gutter
    border: NonNegativeLength
    radius: NonNegativeLength = ZERO
    fold_strip: NonNegativeLength = ZERO
    square_grid: NonNegativeLength = ZERO
    guides: Switches = Field(default_factory=dict)
    lettering: Lettering = Lettering.model_construct()
    spare_pixels: Literal["shared", "margin"] = "shared"
    gutter_cover: Flag = False
    depth: Literal[8, 16] = 8
    profile: Flag = True
    drawing: Annotated[tuple[DrawingLayer, ...], at_most(MOST_LAYERS), BeforeValidator(some)]
    panel_groups: Annotated[tuple[Name, ...], at_most(MOST_LAYERS)] = ()
    start: Start = Start.model_construct()

    @model_validator(mode="before")
    @classmethod
    def _spelled_out(cls, data: Any) -> Any:
        return spell_out(data) if isinstance(data, dict) else data

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        if (self.trim is None) == (self.scroll is None):
            both = "both trim and scroll are" if self.trim else "neither trim nor scroll is"
            allowed = "either trim, for a printed page, or scroll, for a screen"
            raise WrongValueError(f"{both} here", allowed)
        if problems := [*problems_of(self)]:
            raise WrongValueError.all(problems)
        return self

    @property
    def page_size(self) -> Size:
        """The finished page: the trim, or one canvas of a scroll."""
        if self.trim:
            return self.trim
        assert self.scroll  # one of the two is there, as checked above
        return Size.model_construct(width=self.scroll.width, height=self.scroll.canvas_height)
