"""The base of all models of files, and the kinds of values that many of them have."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar
from unicodedata import category

from pydantic import BaseModel, BeforeValidator, ConfigDict, Strict

from guidekit.errors import WrongValueError, shown
from guidekit.units import Length


class Model(BaseModel):
    """The base of every model of a file: immutable, no unknown keys, no silent conversions.

    `also_known` are keys that the file may hold and that are read before the model is made.
    `example` shows a table as it may be written, with every key that must be there, `samples` are
    right values of keys that may be left out and take more than one value. `renamed` tells
    of keys as they were once spelled what to write now; `elsewhere`, of keys that are looked for
    here, where they belong.
    """

    also_known: ClassVar[tuple[str, ...]] = ()
    example: ClassVar[dict[str, Any]] = {}
    samples: ClassVar[dict[str, Any]] = {}
    renamed: ClassVar[dict[str, str]] = {}
    elsewhere: ClassVar[dict[str, str]] = {}

    # Only the outermost model of a file is built, when it checks one; defaults come from
    # `model_construct`, for which none has to be.
    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True
    )


WholeNumber = Annotated[int, Strict()]
Flag = Annotated[bool, Strict()]


def not_negative(value: object) -> Length:
    """A length of 0 or more; raises `WrongValueError`."""
    length = Length.parse(value)
    if length.value < 0:
        raise WrongValueError(f"{shown(value)} is less than nothing", "a length of 0 or more")
    return length


def not_text(value: object) -> WrongValueError:
    """What is said of a value without its quotes."""
    number = isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) < 1e9
    todo = f"Write {shown(str(value))}, in quotes." if number else ""
    return WrongValueError(f"{shown(value)} is not text in quotes", "text in quotes", todo)


NonNegativeLength = Annotated[Length, BeforeValidator(not_negative)]


def checked_name(value: object) -> str:
    """A name for people: printable, on one line, not endless; raises `WrongValueError`."""
    allowed = "a name of 1 to 250 characters, on one line"
    if not isinstance(value, str):
        raise not_text(value)
    if not value.strip():
        raise WrongValueError(f"{shown(value)} is empty", allowed)
    if any(category(c) in ("Cc", "Cs", "Zl", "Zp") for c in value):
        raise WrongValueError(f"{shown(value)} has characters that cannot be printed", allowed)
    if len(value) > 250:
        raise WrongValueError(f"{shown(value)} has {len(value):,} characters", allowed)
    return value


def some(value: object) -> object:
    """A list that is not empty; raises `WrongValueError`.

    Pydantic counts wrong entries as missing.
    """
    if value in ([], ()):
        raise WrongValueError("this list is empty", "at least one entry")
    return value


def at_most(most: int) -> BeforeValidator:
    """Refuses a longer list or table before anything in it is looked at."""

    def short(value: object) -> object:
        if isinstance(value, (list, tuple, dict)) and len(value) > most:
            came = f"{len(value):,} entries are too many"
            raise WrongValueError(came, f"at most {most:,} entries")
        return value

    return BeforeValidator(short)


def at_most_inside(most: int) -> BeforeValidator:
    """Refuses what has more entries than that in all the lists inside it, before they are read."""

    def small(value: object) -> object:
        total, found = 0, [value]
        while found:
            here = found.pop()
            if isinstance(here, list):
                total += len(here)
                if total > most:
                    came = f"these are more than {most:,} entries in lists"
                    raise WrongValueError(came, todo="Divide this file into several.")
                found += here
            elif isinstance(here, dict):
                found += here.values()
        return value

    return BeforeValidator(small)


Name = Annotated[str, BeforeValidator(checked_name)]
