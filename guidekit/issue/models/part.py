"""What holds panels: a part of a page, and a layout, which is one with a name.

A page, a tier and a column are all a `Part`. A list of tiers reads from top to bottom, a list of
columns from left to right, as seen on the page. A number in a list of tiers is so many panels side
by side; in a list of columns, so many panels stacked.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import BeforeValidator, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.issue.models.bending import AnyBending
from guidekit.issue.models.letter_map import LetterMap, read_map
from guidekit.issue.models.share import AnyShare
from guidekit.preset.sizes import Gutter, spell_out
from guidekit.toml.model import Flag, Model, NonNegativeLength, at_most, checked_name
from guidekit.units import Slant

MOST_PANELS = 1_000  # on one page
FEW = at_most(MOST_PANELS)

Triangles = Literal["falling", "rising", "both"]
AnySlant = Annotated[Slant, BeforeValidator(Slant.parse)]
SHARES = ("widths", "heights", "gutters", "slants", "slant", "bends", "bend")
CONTENTS = ("panels", "tiers", "columns", "map", "triangles")
ONE_CONTENT = "one of panels, tiers, columns, map and triangles"
PART_CONTENT = "one of panels, tiers, columns, map, triangles and empty"
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
    share among its neighbours. `triangles` divide it by one of its diagonals or both; an `empty`
    one holds no panel. `gutter` holds inside it; `gutters` has one length, `slants` one slant and
    `bends` one bend for each gap between its parts; `slant` and `bend` are for all of them.
    """

    example: ClassVar = {"panels": 2}
    samples: ClassVar = {"widths": [1, 2], "heights": [1, 2]}

    panels: Annotated[int | str | None, BeforeValidator(_panels)] = None
    tiers: Annotated[tuple[Part, ...] | None, FEW] = None
    columns: Annotated[tuple[Part, ...] | None, FEW] = None
    map: Annotated[LetterMap, BeforeValidator(read_map)] | None = None
    triangles: Triangles | None = None
    empty: Flag = False
    widths: Annotated[tuple[AnyShare, ...], FEW] = ()
    heights: Annotated[tuple[AnyShare, ...], FEW] = ()
    width: AnyShare | None = None
    height: AnyShare | None = None
    gutter: Gutter | None = None
    gutters: Annotated[tuple[NonNegativeLength, ...], FEW] = ()
    slants: Annotated[tuple[AnySlant, ...], FEW] = ()
    slant: AnySlant | None = None
    bends: Annotated[tuple[AnyBending, ...], FEW] = ()
    bend: AnyBending | None = None

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
        own = tuple(getattr(self, name) for name in SHARES)
        if isinstance(self.panels, str) and any(own):
            raise self._beside("panels", SHARES, "a named layout has its own")
        if self.empty and (any(own) or self.gutter):
            raise self._beside("empty", (*SHARES, "gutter"), "an empty place has no parts")
        if self.triangles and any(own):
            raise self._beside("triangles", SHARES, "triangles meet in the corners of their part")
        if self.map and any(own[2:]):
            raise self._beside("map", SHARES[2:], "the gaps of a map are alike and straight")
        for one, each in (("slant", "slants"), ("bend", "bends")):
            if getattr(self, one) and getattr(self, each):
                raise WrongValueError(f"{one} and {each} are both here", "one of them", key=(each,))
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
