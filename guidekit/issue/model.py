"""The model of an issue, as its TOML file writes it.

A page, a tier and a column are all a `Part`: something that holds panels. A list of tiers reads
from top to bottom, a list of columns from left to right, as seen on the page. A number in a list
of tiers is so many panels side by side; in a list of columns, so many panels stacked.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.issue.letter_map import LetterMap, read_map
from guidekit.issue.panel_model import Inset, PanelModel, Perspective
from guidekit.issue.share import AnyShare
from guidekit.preset.guides import Switches
from guidekit.preset.model import Gutter, spell_out
from guidekit.toml_file import Flag, Model, Name, NonNegativeLength, WholeNumber, checked_name, some
from guidekit.units import Length, Slant

MOST_PAGES = 9_999
MOST_PANELS = 1_000  # on one page

AnySlant = Annotated[Slant, BeforeValidator(Slant.parse)]
CONTENTS = ("panels", "tiers", "columns", "map")


def _panels(value: object) -> int | str | None:
    if value is None or isinstance(value, str):
        return value if value is None else checked_name(value)
    if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= MOST_PANELS:
        return value
    raise ValueError(f"1 to {MOST_PANELS:,} panels, or the name of a layout in quotes")


class Part(Model):
    """A page, tier or column and what fills it; a bare number stands for ``panels``.

    `widths` and `heights` are the shares of its columns and tiers, `width` and `height` its own
    share among its neighbours. `gutter` holds inside it; `gutters` has one length, and `slants`
    one slant, for each gap between its parts; `slant` is for all of them.
    """

    panels: Annotated[int | str | None, BeforeValidator(_panels)] = None
    tiers: tuple[Part, ...] | None = None
    columns: tuple[Part, ...] | None = None
    map: Annotated[LetterMap, BeforeValidator(read_map)] | None = None
    widths: tuple[AnyShare, ...] = ()
    heights: tuple[AnyShare, ...] = ()
    width: AnyShare | None = None
    height: AnyShare | None = None
    gutter: Gutter | None = None
    gutters: tuple[NonNegativeLength, ...] = ()
    slants: tuple[AnySlant, ...] = ()
    slant: AnySlant | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, data: Any) -> Any:
        if isinstance(data, (int, str)) and not isinstance(data, bool):
            return {"panels": data}
        if isinstance(data, dict):
            return spell_out(data)
        if not isinstance(data, Part):
            raise ValueError("a number of panels, the name of a layout in quotes, or a table")
        return data

    @model_validator(mode="after")
    def _one_content(self) -> Self:
        given = [key for key in CONTENTS if getattr(self, key)]
        for key in ("tiers", "columns"):
            if getattr(self, key) == ():
                raise ValueError(f"{key} with at least one entry")
        if len(given) > 1:
            raise ValueError(f"one of panels, tiers, columns and map, not {' and '.join(given)}")
        own = (self.widths, self.heights, self.gutters, self.slants, self.slant)
        if isinstance(self.panels, str) and any(own):
            raise ValueError("no widths, heights, gutters or slants beside a named layout")
        if self.map and (self.gutters or self.slants or self.slant):
            raise ValueError("no gutters and slants of single gaps in a map; use tiers or columns")
        if self.slant and self.slants:
            raise ValueError("either slant, for all gaps, or slants, one for each")
        return self


class Layout(Part):
    """An arrangement of panels with a name, and a sentence on what it is for.

    Right-to-left books show it mirrored unless `mirror` is false. `spread` says that it is made
    for a spread, `strip` for a canvas much wider than high.
    """

    about: str = ""
    mirror: Flag = True
    spread: Flag = False
    strip: Flag = False

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if self.width or self.height:
            raise ValueError("no width or height for a layout; where it is named they are given")
        if not any(getattr(self, key) for key in CONTENTS):
            raise ValueError("one of panels, tiers, columns and map")
        return self


def _screens(value: object) -> Length | Fraction:
    """A height: a length, or so many screens."""
    found = isinstance(value, str) and re.fullmatch(
        r"\s*(\d{1,3}(?:\.\d{1,4})?)\s*screens?\s*", value
    )
    if found and Fraction(found[1]):
        return Fraction(found[1])
    length = Length.parse(value) if not found and isinstance(value, str) else None
    if not length or length.value <= 0:
        raise ValueError('a height such as "900 px" or "1.5 screens"')
    return length


def _ratio(value: object) -> Fraction:
    found = isinstance(value, str) and re.fullmatch(r"\s*(\d{1,4})\s*:\s*(\d{1,4})\s*", value)
    if not found or not int(found[1]) or not int(found[2]):
        raise ValueError('width to height, as in "3:2"')
    return Fraction(int(found[1]), int(found[2]))


def _gap(value: object) -> str | Length:
    if value in ("close", "normal", "scene"):
        return str(value)
    length = Length.parse(value) if isinstance(value, str) and value[:1].isdigit() else None
    if length is None:
        raise ValueError('"close", "normal", "scene" or a length such as "300 px"')
    return length


class ScrollItem(Model):
    """A panel of a vertical scroll, or several in one place (`inside`); `gap` is above it.

    `height` or the `ratio` of width to height says how tall it is; a `full` one runs to both
    sides of the canvas.
    """

    height: Annotated[Length | Fraction, BeforeValidator(_screens)] | None = None
    ratio: Annotated[Fraction, BeforeValidator(_ratio)] | None = None
    gap: Annotated[str | Length, BeforeValidator(_gap)] | None = None
    full: Flag = False
    inside: Part = Part(panels=1)

    @model_validator(mode="after")
    def _one_height(self) -> Self:
        if (self.height is None) == (self.ratio is None):
            raise ValueError("either height or ratio")
        return self


class Page(Part):
    """One entry of ``[[pages]]``: `count` pages alike, or one spread, or one scroll.

    `halves` are the two pages of a spread, the left one first, in place of one arrangement across.
    """

    count: Annotated[WholeNumber, Field(ge=1, le=MOST_PAGES)] = 1
    spread: Flag = False
    halves: tuple[Part, Part] | None = None
    scroll: Annotated[tuple[ScrollItem, ...], Field(max_length=2_000)] | None = None
    radius: NonNegativeLength | None = None
    panel: dict[str, PanelModel] = Field(default_factory=dict)
    insets: Annotated[tuple[Inset, ...], Field(max_length=200)] = ()
    perspective: Perspective | None = None
    guides: Switches = Field(default_factory=dict)
    note: Annotated[Name, Field(max_length=250)] | None = None

    @model_validator(mode="after")
    def _whole_page(self) -> Self:
        if self.width or self.height:
            raise ValueError("no width or height for a page; the preset has them")
        if isinstance(self.panels, int) and self.panels > 1:
            raise ValueError('the name of a layout, or tiers, as in "tiers = [2, 3, 1]"')
        contents = (*CONTENTS, "halves", "scroll")
        given = [key for key in contents if getattr(self, key)]
        if not given:
            raise ValueError("one of panels, tiers, columns and map")
        if len(given) > 1:
            raise ValueError(f"one of {', '.join(contents)}, not {' and '.join(given)}")
        inside = (self.widths, self.heights, self.gutters, self.slants, self.slant)
        if (self.halves or self.scroll) and any(inside):
            raise ValueError("shares, gutters and slants inside halves and scroll, not beside them")
        if self.halves and not self.spread:
            raise ValueError("halves on a spread only; add spread = true")
        if self.scroll and (self.count > 1 or self.spread or self.insets or self.panel):
            raise ValueError("no count, spread, insets or panel beside scroll")
        return self


class Issue(Model):
    """One book or episode."""

    title: Name
    preset: Name
    number: Annotated[WholeNumber, Field(ge=0, le=99_999)] | None = None
    file_name: Name | None = None
    direction: Literal["ltr", "rtl"] | None = None
    label_font: Name | None = None
    format: dict[str, Any] = Field(default_factory=dict)
    guides: Switches = Field(default_factory=dict)
    layouts: dict[Name, Layout] = Field(default_factory=dict)
    pages: Annotated[tuple[Page, ...], BeforeValidator(some)]

    @model_validator(mode="after")
    def _not_endless(self) -> Self:
        total = sum(page.count * (2 if page.spread else 1) for page in self.pages)
        if total > MOST_PAGES:
            raise ValueError(f"at most {MOST_PAGES:,} pages, and these are {total:,}")
        return self
