"""The model of an issue, as its TOML file writes it: its pages, and what holds for all of them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Self

from pydantic import (
    BeforeValidator,
    Field,
    ModelWrapValidatorHandler,
    ValidationError,
    ValidationInfo,
    model_validator,
)

from guidekit.errors import WrongValueError
from guidekit.issue.models.book import PageInBook
from guidekit.issue.models.by_side import in_tables, names_sides, written_in, wrong_sides
from guidekit.issue.models.panel import Border, Inset, PanelModel, Perspective, Sides
from guidekit.issue.models.part import CONTENTS, FEW, ONE_CONTENT, ONE_PANEL, SHARES, Part
from guidekit.issue.models.scroll_values import read_gap, read_height, read_ratio
from guidekit.issue.models.series import IN_FORMAT, Series
from guidekit.preset.guides import Switches
from guidekit.preset.model import HexColour
from guidekit.preset.sizes import Edges
from guidekit.toml.model import (
    Flag,
    Model,
    Name,
    NonNegativeLength,
    WholeNumber,
    at_most,
    at_most_inside,
    some,
)
from guidekit.units import Length

MOST_PAGES = 9_999
MOST_ENTRIES = 60_000  # in all lists of all pages

#: Keys of the issue that stand on a page by mistake, as all do that are written below its heading.
AT_THE_TOP = {
    key: f"{key} at the top of the file, above all headings in brackets"
    for key in (*Series.model_fields, "series", "number", "file_name")
} | {"pages": "count, for so many pages alike"}


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


def _which_run_out(value: object) -> object:
    """Of a page not how wide the bleed is, but on which sides panels run out to it."""
    if isinstance(value, dict):  # as one length is spelled out
        came = "the width of the bleed is one for all pages"
        allowed = 'sides on which all panels there run out, such as "all"'
        todo = f"Write {IN_FORMAT['bleed']}, for its width; here {allowed}."
        raise WrongValueError(came, allowed, todo)
    return value


class Page(Part, PageInBook):
    """One entry of ``[[pages]]``: `count` pages alike, or one spread, or one scroll.

    `halves` are the two pages of a spread, the left one first, in place of one arrangement across.
    `safe_area`, `paper` and `borders` are those of this page in place of the preset's; on the sides
    of `bleed` every panel at the edge of the page runs out. `on_left` and `on_right` are the page
    with what holds on left or on right pages only, and of a spread what fills one of its pages
    anew; None where it does not differ.
    """

    example: ClassVar = {"tiers": [2, 3, 1]}
    samples: ClassVar = Part.samples | {"panel": {"1": {"bleed": "all"}}}
    renamed: ClassVar = {"safe": "safe_area"}
    elsewhere: ClassVar = IN_FORMAT | AT_THE_TOP

    count: Annotated[WholeNumber, Field(ge=1, le=MOST_PAGES)] = 1
    spread: Flag = False
    halves: tuple[Part, Part] | None = None
    scroll: Annotated[tuple[ScrollItem, ...] | None, at_most(2_000), BeforeValidator(some)] = None
    safe_area: Edges | None = None
    paper: HexColour | None = None
    borders: Border | None = None
    bleed: Annotated[Sides | None, BeforeValidator(_which_run_out)] = None
    radius: NonNegativeLength | None = None
    panel: Annotated[dict[str, PanelModel], FEW] = Field(default_factory=dict)
    insets: Annotated[tuple[Inset, ...], at_most(200)] = ()
    perspective: Perspective | None = None
    guides: Switches = Field(default_factory=dict)
    note: Name | None = None
    on_left: Page | None = None
    on_right: Page | None = None

    @model_validator(mode="wrap")
    @classmethod
    def _by_side(
        cls, data: Any, one: ModelWrapValidatorHandler[Self], info: ValidationInfo
    ) -> Self:
        if not names_sides(data):
            return one(data)
        pages: dict[str, Self] = {}
        wrong = wrong_sides(data, (*CONTENTS, *SHARES, "gutter"))
        problems = {(problem.key, problem.came): problem for problem in wrong}
        for own, table in () if problems else in_tables(data, CONTENTS, SHARES):
            try:
                pages[own] = cls.model_validate(table, context=info.context)
            except ValidationError as error:
                from guidekit.toml.problems import problems_of

                for problem in problems_of(cls, error):
                    key = written_in(data, own, problem.key)
                    problems.setdefault((key, problem.came), replace(problem, key=key))
        if problems:
            raise WrongValueError.all(problems.values())
        page = pages.pop("", None) or pages["on_right"]
        return page.model_copy(update=pages)

    def on(self, side: str) -> Page:
        """The page as it is on this side."""
        return {"left": self.on_left, "right": self.on_right}.get(side) or self

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
        unfit = ("spread", "insets", "panel", "bleed")
        if self.scroll and (self.count > 1 or any(getattr(self, name) for name in unfit)):
            names = unfit if self.count == 1 else ("count",)
            raise self._beside("scroll", names, "a scroll is one page")
        return self


class Issue(Series):
    """One book or episode: what a series may say as well, and its pages."""

    example: ClassVar = {
        "title": "The Salt Road",
        "preset": "us-comic",
        "pages": [{"tiers": [2, 3, 1]}],
    }
    samples: ClassVar = {"format": {"bleed": "5 mm"}, "layouts": {"lamp": {"columns": [1, 3]}}}
    renamed: ClassVar = {"stem": "file_name"}
    elsewhere: ClassVar = (
        {key: f"{key} under [[pages]]" for key in Page.model_fields}
        | IN_FORMAT
        | {"issues": "issues in the series"}
    )

    series: Name | None = None
    title: Name
    preset: Name
    number: Annotated[WholeNumber, Field(ge=0, le=99_999)] | None = None
    file_name: Name | None = None
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
