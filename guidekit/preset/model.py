"""The model of one page format, as its TOML file writes it.

Lengths are exact and keep their units. *Inside* is the edge toward the fold, *outside* the edge
away from it. The bleed is measured outward from the trim, the safe area inward.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.preset.drawing import MOST_LAYERS, DrawingLayer, Lettering
from guidekit.preset.fits import problems_of
from guidekit.preset.guides import Switches
from guidekit.preset.scroll import Scroll
from guidekit.preset.sizes import ZERO, Edges, Gutter, Size, spell_out
from guidekit.toml.model import Flag, Model, Name, NonNegativeLength, WholeNumber, at_most, some


class Start(Model):
    """What a new issue begins with: so many pages, the layout of the first and that of the others.

    Unless the preset says otherwise: a first page of one large panel, then pages of six in three
    tiers, for five to nine are usual (common practice, no source).
    """

    pages: Annotated[WholeNumber, Field(ge=1, le=9_999)] = 24
    first: Name = "splash"
    others: Name = "tiers-2-3-1"


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
