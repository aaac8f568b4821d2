"""The model of an issue, as its TOML file writes it.

A page, a tier and a column are all a `Part`: something that holds panels. A list of tiers reads
from top to bottom, a list of columns from left to right, as seen on the page. A number in a list
of tiers is so many panels side by side; in a list of columns, so many panels stacked.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.issue.book_model import IssueAsBook, PageInBook
from guidekit.issue.letter_map import LetterMap, read_map
from guidekit.issue.panel_model import Inset, PanelModel, Perspective
from guidekit.issue.scroll_values import read_gap, read_height, read_ratio
from guidekit.issue.share import AnyShare
from guidekit.preset.guides import Switches
from guidekit.preset.model import Gutter, Preset, spell_out
from guidekit.toml.model import (
    Flag,
    Model,
    Name,
    NonNegativeLength,
    WholeNumber,
    at_most,
    at_most_inside,
    checked_name,
    some,
)
from guidekit.units import Length, Slant

MOST_PAGES = 9_999
MOST_PANELS = 1_000  # on one page
MOST_ENTRIES = 60_000  # in all lists of all pages
FEW = at_most(MOST_PANELS)

AnySlant = Annotated[Slant, BeforeValidator(Slant.parse)]
SHARES = ("widths", "heights", "gutters", "slants", "slant")
CONTENTS = ("panels", "tiers", "columns", "map")
ONE_CONTENT = "one of panels, tiers, columns and map"
PART_CONTENT = "one of panels, tiers, columns, map and empty"
PANELS = f"1 to {MOST_PANELS:,} panels, or the name of a layout in quotes"
PART = f"1 to {MOST_PANELS:,} panels, the name of a layout in quotes, or a table"


def _panels(value: object) -> int | str | None:
    if value is None or isinstance(value, str):
        return value if value is None else checked_name(value)
    if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= MOST_PANELS:
        return value
    todo = ""
    if isinstance(value, list) and len(value) == 1 and isinstance(value[0], (int, str)):
        todo = f"Write {shown(value[0])}, without brackets."
    raise WrongValueError(f"{shown(value)} is not a number of panels", PANELS, todo)


class Part(Model):
    """A page, tier or column and what fills it; a bare number stands for ``panels``.

    `widths` and `heights` are the shares of its columns and tiers, `width` and `height` its own
    share among its neighbours. An `empty` one holds no panel. `gutter` holds inside it; `gutters`
    has one length, and `slants` one slant, for each gap between its parts; `slant` is for all of
    them.
    """

    example: ClassVar = {"panels": 2}
    samples: ClassVar = {"widths": [1, 2], "heights": [1, 2]}

    panels: Annotated[int | str | None, BeforeValidator(_panels)] = None
    tiers: Annotated[tuple[Part, ...] | None, FEW] = None
    columns: Annotated[tuple[Part, ...] | None, FEW] = None
    map: Annotated[LetterMap, BeforeValidator(read_map)] | None = None
    empty: Flag = False
    widths: Annotated[tuple[AnyShare, ...], FEW] = ()
    heights: Annotated[tuple[AnyShare, ...], FEW] = ()
    width: AnyShare | None = None
    height: AnyShare | None = None
    gutter: Gutter | None = None
    gutters: Annotated[tuple[NonNegativeLength, ...], FEW] = ()
    slants: Annotated[tuple[AnySlant, ...], FEW] = ()
    slant: AnySlant | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, data: Any) -> Any:
        if isinstance(data, (int, str)) and not isinstance(data, bool):
            return {"panels": data}
        if isinstance(data, dict):
            return spell_out(data)
        if not isinstance(data, Part):
            raise WrongValueError(f"{shown(data)} is not a number of panels", PART)
        return data

    @model_validator(mode="after")
    def _one_content(self) -> Self:
        if self.model_fields_set == {"panels"}:
            return self  # as most are: a number in a list
        given = [key for key in (*CONTENTS, "empty") if getattr(self, key)]
        for key in ("tiers", "columns"):
            if getattr(self, key) == ():
                raise WrongValueError("this list is empty", "at least one entry", key=(key,))
        if len(given) > 1:
            allowed = PART_CONTENT if self.empty else ONE_CONTENT
            came = f"{' and '.join(given)} are both here"
            raise WrongValueError(came, allowed, key=(given[-1],))
        own = (self.widths, self.heights, self.gutters, self.slants, self.slant)
        if isinstance(self.panels, str) and any(own):
            raise self._beside("panels", SHARES, "a named layout has its own")
        if self.empty and (any(own) or self.gutter):
            raise self._beside("empty", (*SHARES, "gutter"), "an empty place has no parts")
        if self.map and (self.gutters or self.slants or self.slant):
            raise self._beside("map", SHARES[2:], "the gaps of a map are alike and straight")
        if self.slant and self.slants:
            raise WrongValueError("slant and slants are both here", "one of them", key=("slants",))
        return self

    def _beside(self, content: str, names: Sequence[str], why: str) -> WrongValueError:
        """What is said of a key that has no sense beside a content."""
        name = next(name for name in names if getattr(self, name))
        came = f"{name} and {content} are both here, and {why}"
        return WrongValueError(came, "one of them", f"Leave {name} out.", (name,))


ONE_PANEL = Part.model_construct(panels=1)


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
            name = "width" if self.width else "height"
            came = f"a layout has no {name} of its own"
            raise WrongValueError(came, todo="Write it where the layout is named.", key=(name,))
        if not any(getattr(self, key) for key in CONTENTS):
            raise WrongValueError("no panels are in this layout", ONE_CONTENT)
        return self


class ScrollItem(Model):
    """A panel of a vertical scroll, or several in one place (`inside`); `gap` is above it.

    `height` or the `ratio` of width to height says how tall it is; a `full` one runs to both
    sides of the canvas.
    """

    example: ClassVar = {"height": "1.5 screens"}
    renamed: ClassVar = {"fill": "inside"}

    height: Annotated[Length | Fraction, BeforeValidator(read_height)] | None = None
    ratio: Annotated[Fraction, BeforeValidator(read_ratio)] | None = None
    gap: Annotated[str | Length, BeforeValidator(read_gap)] | None = None
    full: Flag = False
    inside: Part = ONE_PANEL

    @model_validator(mode="after")
    def _one_height(self) -> Self:
        if (self.height is None) == (self.ratio is None):
            came = "both height and ratio are" if self.ratio else "neither height nor ratio is"
            raise WrongValueError(f"{came} here", "one of them")
        for name in ("width", "height"):
            if getattr(self.inside, name):
                came = f"what is inside has the whole {name} of its place"
                raise WrongValueError(came, todo="Leave it out.", key=("inside", name))
        return self


#: Keys of a preset that are looked for at the top of an issue, or on a page.
IN_FORMAT = {key: f"{key} under [format], or format.{key}" for key in Preset.model_fields} | {
    old: f"{new}{',' if ',' in new else ''} under [format]" for old, new in Preset.renamed.items()
}


class Page(Part, PageInBook):
    """One entry of ``[[pages]]``: `count` pages alike, or one spread, or one scroll.

    `halves` are the two pages of a spread, the left one first, in place of one arrangement across.
    """

    example: ClassVar = {"tiers": [2, 3, 1]}
    samples: ClassVar = Part.samples | {"panel": {"1": {"bleed": "all"}}}
    elsewhere: ClassVar = IN_FORMAT

    count: Annotated[WholeNumber, Field(ge=1, le=MOST_PAGES)] = 1
    spread: Flag = False
    halves: tuple[Part, Part] | None = None
    scroll: Annotated[tuple[ScrollItem, ...] | None, at_most(2_000), BeforeValidator(some)] = None
    radius: NonNegativeLength | None = None
    panel: Annotated[dict[str, PanelModel], FEW] = Field(default_factory=dict)
    insets: Annotated[tuple[Inset, ...], at_most(200)] = ()
    perspective: Perspective | None = None
    guides: Switches = Field(default_factory=dict)
    note: Name | None = None

    @property
    def contents(self) -> tuple[str, ...]:
        """The keys of what fills it; none on a bare page."""
        return tuple(key for key in (*CONTENTS, "halves", "scroll") if getattr(self, key))

    @model_validator(mode="after")
    def _whole_page(self) -> Self:
        if self.width or self.height:
            name = "width" if self.width else "height"
            came = f"a page has no {name} of its own, for the preset has it"
            raise WrongValueError(came, todo="Leave it out.", key=(name,))
        if isinstance(self.panels, int) and self.panels > 1:
            came = f"{self.panels} panels may lie in many ways"
            allowed = "the name of a layout, or tiers, as in tiers = [2, 3, 1]"
            raise WrongValueError(came, allowed, key=("panels",))
        given = self.contents
        if not given and not self.may_be_bare:
            raise WrongValueError("no panels are on this page", ONE_CONTENT)
        if given and self.kind == "blank":
            raise WrongValueError("a blank page has no panels", todo="Leave it out.", key=given[:1])
        if self.scroll and self.reveal:
            raise WrongValueError(
                "a scroll has no page turns", todo="Leave it out.", key=("reveal",)
            )
        if len(given) > 1:
            raise WrongValueError(
                f"{' and '.join(given)} are both here", "one of them", key=(given[-1],)
            )
        if (self.halves or self.scroll) and any(getattr(self, name) for name in SHARES):
            raise self._beside(given[0], SHARES, "what is inside has its own")
        if self.halves and not self.spread:
            came = "a single page has no halves"
            raise WrongValueError(came, "a spread", "Add spread = true.", ("halves",))
        for i, half in enumerate(self.halves or ()):
            for name in ("width", "height"):
                if getattr(half, name):
                    came = f"half of a spread has no {name} of its own, for the preset has it"
                    raise WrongValueError(came, todo="Leave it out.", key=("halves", i, name))
        if self.scroll and (self.count > 1 or self.spread or self.insets or self.panel):
            names = ("spread", "insets", "panel") if self.count == 1 else ("count",)
            raise self._beside("scroll", names, "a scroll is one page")
        return self


class Issue(IssueAsBook):
    """One book or episode."""

    example: ClassVar = {
        "title": "The Salt Road",
        "preset": "us-comic",
        "pages": [{"tiers": [2, 3, 1]}],
    }
    samples: ClassVar = {"format": {"bleed": "5 mm"}, "layouts": {"lamp": {"columns": [1, 3]}}}
    renamed: ClassVar = {"stem": "file_name"}
    elsewhere: ClassVar = IN_FORMAT

    title: Name
    preset: Name
    number: Annotated[WholeNumber, Field(ge=0, le=99_999)] | None = None
    file_name: Name | None = None
    direction: Literal["ltr", "rtl"] | None = None
    label_font: Name | None = None
    format: dict[str, Any] = Field(default_factory=dict)
    guides: Switches = Field(default_factory=dict)
    layouts: Annotated[dict[Name, Layout], FEW] = Field(default_factory=dict)
    pages: Annotated[
        tuple[Page, ...], at_most_inside(MOST_ENTRIES), at_most(MOST_PAGES), BeforeValidator(some)
    ]

    @model_validator(mode="after")
    def _not_endless(self) -> Self:
        total = sum(page.count * (2 if page.spread else 1) for page in self.pages)
        if total > MOST_PAGES:
            came = f"these are {total:,} pages"
            raise WrongValueError(came, f"at most {MOST_PAGES:,} pages", key=("pages",))
        return self
