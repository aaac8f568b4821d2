"""What an issue's file may say of the book: how it is bound, what is printed as page numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.preset.guides import Switches
from guidekit.preset.sizes import ZERO
from guidekit.toml.model import Flag, Model, Name, NonNegativeLength, WholeNumber, at_most
from guidekit.units import Length

BindingName = Literal["saddle-stitch", "perfect", "zine", "loose", "scroll"]
PageKind = Literal["story", "blank", "ad", "credits"]
NumberStyle = Literal["arabic", "roman", "none"]


def _number(value: object) -> Fraction:
    allowed = "a number above 0, at most 10,000"
    if isinstance(value, Fraction):
        return value
    if not isinstance(value, (int, float)) or isinstance(value, bool) or not 0 < value <= 10_000:
        raise WrongValueError(f"{shown(value)} is not such a number", allowed)
    return Fraction(str(value))


def _caliper(value: object) -> Length:
    allowed = 'a thickness above 0 and at most 5 mm, as in "0.1 mm" or "0.0045 in"'
    length = Length.parse(value)
    if length.unit == "px" or not 0 < length.mm(1) <= 5:  # no pixels, so that no dpi matters
        raise WrongValueError(f"{shown(value)} is no paper's thickness", allowed)
    return length


Caliper = Annotated[Length, BeforeValidator(_caliper)]
Number = Annotated[Fraction, BeforeValidator(_number)]


class Stock(Model):
    """Paper to print on: its `caliper`, or its weight in `grams` to the square metre.

    From grams the caliper is an estimate: grams times `bulk`, the volume of a gram in cm³
    (ISO 534), in thousandths of a millimetre. Unless it is given, 1.25, as of uncoated book paper;
    coated paper has 0.8 to 0.9 (common practice, no source).
    """

    example: ClassVar = {"caliper": "0.1 mm"}

    caliper: Caliper | None = None
    grams: Number | None = None
    bulk: Number = Fraction(5, 4)

    @model_validator(mode="after")
    def _one_of_both(self) -> Self:
        if self.caliper and self.grams:
            came = "caliper and grams are both here"
            raise WrongValueError(came, "one of them", key=("grams",))
        return self

    @property
    def thickness(self) -> Fraction | None:
        """The caliper in millimetres, measured or estimated; None if the file tells neither."""
        if self.grams:
            return self.grams * self.bulk / 1000
        return self.caliper.mm(1) if self.caliper else None


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


class Barcode(Model):
    """The place on the back cover that is kept clear; unless it is given, that of an EAN-13.

    113 modules of 0.33 mm with their quiet zones, 25.93 mm high (GS1 General Specifications,
    nominal size; from memory).
    """

    example: ClassVar = {"width": "2 in", "height": "1.2 in"}

    width: NonNegativeLength = Length(Fraction("37.29"), "mm")
    height: NonNegativeLength = Length(Fraction("25.93"), "mm")


def _barcode(value: object) -> object:
    """``true`` stands for the usual size, ``false`` for none."""
    return ({} if value else None) if isinstance(value, bool) else value


class Cover(Stock):
    """The cover, apart from the pages: its stock, and the canvases it takes.

    `wrap` is one canvas of back, spine and front, else each has its own; `inside` adds the inner
    side. `spine` is its thickness where the printer names it, `flaps` are folded in at both ends.
    """

    example: ClassVar = {"wrap": True}

    wrap: Flag = True
    inside: Flag = False
    spine: NonNegativeLength | None = None
    flaps: NonNegativeLength = ZERO
    barcode: Annotated[Barcode | None, BeforeValidator(_barcode)] = None
    guides: Switches = Field(default_factory=dict)

    @model_validator(mode="after")
    def _only_of_wraps(self) -> Self:
        for name in ("spine", "flaps"):
            given = getattr(self, name)
            if not self.wrap and given and given.value:
                came = f"front and back have no {name} when each has a canvas of its own"
                raise WrongValueError(came, "wrap = true", "Leave it out.", (name,))
        return self


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
    cover: Cover | None = None
    folios: Folios | None = None

    @property
    def bound_as(self) -> str:
        """The name of the binding; empty if the issue names none."""
        return self.binding.kind if self.binding else ""
