"""What an issue's file may say of the book: how it is bound, what is printed as page numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.toml.model import Flag, Model, Name, NonNegativeLength, WholeNumber, at_most
from guidekit.units import Length

BindingName = Literal["saddle-stitch", "perfect", "zine", "loose", "scroll"]
PageKind = Literal["story", "blank", "ad", "credits"]
NumberStyle = Literal["arabic", "roman", "none"]
ZERO = Length(Fraction(0), "mm")


def _number(value: object) -> Fraction:
    allowed = "a number above 0, at most 10,000"
    if isinstance(value, Fraction):
        return value
    if not isinstance(value, (int, float)) or isinstance(value, bool) or not 0 < value <= 10_000:
        raise WrongValueError(f"{shown(value)} is not such a number", allowed)
    return Fraction(str(value))


Number = Annotated[Fraction, BeforeValidator(_number)]


class Stock(Model):
    """Paper to print on: its `caliper`, or its weight in `grams` to the square metre.

    From grams the caliper is an estimate: grams times `bulk`, the volume of a gram in cm³
    (ISO 534), in thousandths of a millimetre. Unless it is given, 1.25, as of uncoated book paper;
    coated paper has 0.8 to 0.9 (common practice, no source).
    """

    example: ClassVar = {"caliper": "0.1 mm"}

    caliper: NonNegativeLength | None = None
    grams: Number | None = None
    bulk: Number = Fraction(5, 4)

    @model_validator(mode="after")
    def _one_of_both(self) -> Self:
        if self.caliper and self.grams:
            came = "caliper and grams are both here"
            raise WrongValueError(came, "one of them", key=("grams",))
        return self

    @property
    def thickness(self) -> Length | None:
        """The caliper, measured or estimated; None if the file tells neither."""
        if self.grams:
            return Length(self.grams * self.bulk / 1000, "mm")
        return self.caliper


class Binding(Stock):
    """How the book is held together, and the paper of its pages; a bare name stands for `kind`.

    `creep_in_safe_area` takes the creep of each page from its safe area, on the outside;
    `creep_factor` is by how much a fold pushes pages further out than one paper's caliper.
    """

    example: ClassVar = {"kind": "saddle-stitch", "caliper": "0.1 mm"}

    kind: BindingName
    creep_in_safe_area: Flag = False
    creep_factor: Number = Fraction(1)

    @model_validator(mode="before")
    @classmethod
    def _bare_name(cls, data: Any) -> Any:
        return {"kind": data} if isinstance(data, str) else data

    @model_validator(mode="after")
    def _creeps(self) -> Self:
        if not self.creep_in_safe_area:
            return self
        key = ("creep_in_safe_area",)
        if self.kind != "saddle-stitch":
            came = f"there is no creep in {self.kind} binding, only where sheets lie in each other"
            raise WrongValueError(came, 'kind = "saddle-stitch"', "Leave it out.", key)
        if not self.thickness:
            came = "without paper there is no creep"
            allowed = 'the paper, as caliper = "0.1 mm" or grams = 90'
            raise WrongValueError(came, allowed, key=key)
        return self


class Section(Model):
    """A part of the book that begins on a page: a bare text is its `title`.

    `numbers` is how its pages are numbered, `start` the number of its first page. Without them
    numbers go on as before.
    """

    example: ClassVar = {"title": "Front matter", "numbers": "roman", "start": 1}

    title: Name | None = None
    numbers: NumberStyle | None = None
    start: Annotated[WholeNumber, Field(ge=1, le=99_999)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _bare_title(cls, data: Any) -> Any:
        return data if isinstance(data, (dict, Model)) else {"title": data}


class Folios(Model):
    """Page numbers that are printed, in the margin between trim and safe area.

    `height` is that of the digits. `distance` is from the trim to the digits; without it they stand
    in the middle of the margin. Pages of the kinds `without` have none.
    """

    example: ClassVar = {"place": "outside", "height": "2 mm"}

    place: Literal["outside", "centre", "inside"] = "outside"
    edge: Literal["bottom", "top"] = "bottom"
    height: NonNegativeLength = Length(Fraction(2), "mm")
    distance: NonNegativeLength | None = None
    font: Name | None = None
    numbers: NumberStyle = "arabic"
    without: Annotated[tuple[PageKind, ...], at_most(4)] = ("blank", "ad")


class PageInBook(Model):
    """What a page says of its place in the book.

    A page of a `kind` other than ``story`` needs no panels, a ``blank`` one has none. `reveal` says
    that the turn of a page is to show it, `section` that a section begins here, `folio` whether the
    page may have its number printed.
    """

    kind: PageKind = "story"
    reveal: Flag = False
    section: Section | None = None
    folio: Flag = True

    @property
    def may_be_bare(self) -> bool:
        """True if the page need not have panels."""
        return self.kind != "story"


class IssueAsBook(Model):
    """What an issue says of the whole book."""

    binding: Binding | None = None
    folios: Folios | None = None
