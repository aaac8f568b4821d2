"""The model of an issue, as its TOML file writes it.

A page, a tier and a column are all a `Part`: something that holds panels. A list of tiers reads
from top to bottom, a list of columns from left to right, as seen on the page. A number in a list
of tiers is so many panels side by side; in a list of columns, so many panels stacked.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import one_of
from guidekit.issue.letter_map import LetterMap, read_map
from guidekit.issue.share import AnyShare
from guidekit.preset.model import EDGE_NAMES, Gutter, spell_out
from guidekit.toml_file import Flag, Model, Name, WholeNumber

MOST_PAGES = 9_999
MOST_PANELS = 1_000  # on one page


def _sides(value: object) -> tuple[str, ...]:
    sides = (value,) if isinstance(value, str) else value
    if not isinstance(sides, (list, tuple)) or not (
        sides == ("all",) or all(side in EDGE_NAMES for side in sides)
    ):
        raise ValueError(f'"all", or a list of {one_of(EDGE_NAMES)}')
    return tuple(dict.fromkeys(sides))


class PanelModel(Model):
    """What is special about one panel: the sides on which it runs to the bleed."""

    bleed: Annotated[tuple[str, ...], BeforeValidator(_sides)] = ()


class Part(Model):
    """A page, tier or column and what fills it; a bare number stands for ``panels``."""

    panels: Annotated[WholeNumber, Field(ge=1, le=MOST_PANELS)] | Name | None = None
    tiers: tuple[Part, ...] | None = None
    columns: tuple[Part, ...] | None = None
    map: Annotated[LetterMap, BeforeValidator(read_map)] | None = None
    widths: tuple[AnyShare, ...] = ()
    heights: tuple[AnyShare, ...] = ()
    width: AnyShare | None = None
    height: AnyShare | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, data: Any) -> Any:
        if isinstance(data, (int, str)) and not isinstance(data, bool):
            return {"panels": data}
        if not isinstance(data, (dict, Part)):
            raise ValueError("a number of panels, the name of a layout in quotes, or a table")
        return data

    @model_validator(mode="after")
    def _one_content(self) -> Self:
        given = [key for key in ("panels", "tiers", "columns", "map") if getattr(self, key)]
        for key in ("tiers", "columns"):
            if getattr(self, key) == ():
                raise ValueError(f"{key} with at least one entry")
        if len(given) > 1:
            raise ValueError(f"one of panels, tiers, columns and map, not {' and '.join(given)}")
        if isinstance(self.panels, str) and (self.widths or self.heights):
            raise ValueError("no widths or heights beside a named layout, which has its own")
        return self


class Page(Part):
    """One entry of ``[[pages]]``: `count` pages alike, or one spread."""

    count: Annotated[WholeNumber, Field(ge=1, le=MOST_PAGES)] = 1
    spread: Flag = False
    gutter: Gutter | None = None
    panel: dict[str, PanelModel] = Field(default_factory=dict)
    note: Annotated[Name, Field(max_length=250)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _spelled_out(cls, data: Any) -> Any:
        return spell_out(data) if isinstance(data, dict) else data

    @model_validator(mode="after")
    def _whole_page(self) -> Self:
        if self.width or self.height:
            raise ValueError("no width or height for a page; the preset has them")
        if isinstance(self.panels, int) and self.panels > 1:
            raise ValueError('the name of a layout, or tiers, as in "tiers = [2, 3, 1]"')
        if not (self.panels or self.tiers or self.columns or self.map):
            raise ValueError("one of panels, tiers, columns and map")
        return self


class Issue(Model):
    """One book or episode."""

    title: Name
    preset: Name
    number: Annotated[WholeNumber, Field(ge=0, le=99_999)] | None = None
    stem: Name | None = None
    direction: Literal["ltr", "rtl"] | None = None
    label_font: Name | None = None
    format: dict[str, Any] = Field(default_factory=dict)
    pages: Annotated[tuple[Page, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _not_endless(self) -> Self:
        total = sum(page.count for page in self.pages)
        if total > MOST_PAGES:
            raise ValueError(f"at most {MOST_PAGES:,} pages, and these are {total:,}")
        return self
