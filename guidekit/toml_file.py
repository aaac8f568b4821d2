"""From a TOML file to a checked model, with every problem of the file at once."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Annotated, Any, ClassVar, TypeVar, get_args, get_origin
from unicodedata import category

from pydantic import BaseModel, BeforeValidator, ConfigDict, Strict, ValidationError

from guidekit.errors import InputError, MachineError, Problem, nearest, one_of, shown
from guidekit.units import Length

DEEPEST = 100  # levels of tables and lists; 24 splits within each other take half of them
LARGEST_FILE = 4_000_000  # bytes; a text file for an issue is a few thousand


class Model(BaseModel):
    """The base of every model of a file: immutable, no unknown keys, no silent conversions.

    `also_known` are keys that the file may hold and that are read before the model is made.
    """

    also_known: ClassVar[tuple[str, ...]] = ()

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


ModelType = TypeVar("ModelType", bound=Model)

WholeNumber = Annotated[int, Strict()]
Flag = Annotated[bool, Strict()]


def _not_negative(value: object) -> Length:
    length = Length.parse(value)
    if length.value < 0:
        raise ValueError("a length of 0 or more")
    return length


NonNegativeLength = Annotated[Length, BeforeValidator(_not_negative)]


def checked_name(value: object) -> str:
    """A name for people: printable, on one line, not endless; raises `ValueError`."""
    if not isinstance(value, str):
        raise ValueError("text in quotes")
    if not value.strip() or any(category(c) in ("Cc", "Cs", "Zl", "Zp") for c in value):
        raise ValueError("a name of printable characters, without line breaks")
    if len(value) > 250:
        raise ValueError(f"a name of at most 250 characters, and this one has {len(value):,}")
    return value


def some(value: object) -> object:
    """A list that is not empty; raises `ValueError` (pydantic counts wrong entries as missing)."""
    if value in ([], ()):
        raise ValueError("at least one entry")
    return value


Name = Annotated[str, BeforeValidator(checked_name)]


def read_toml(path: Path) -> dict[str, Any]:
    """The tables of a TOML file.

    Raises `InputError` if it is missing, a folder or no TOML, `MachineError` if it may not be read.
    """

    def bad(came: str, todo: str = "") -> InputError:
        return InputError(Problem(str(path), came, "a TOML text file in UTF-8", todo))

    try:
        if path.is_dir():
            raise bad("this is a folder", "Name the file in it.")
        if path.exists() and not path.is_file():
            raise bad("this is a device or a pipe", "Name a file.")
        if path.stat().st_size > LARGEST_FILE:
            raise bad(f"the file has more than {LARGEST_FILE:,} bytes", "Is it the right file?")
        data = tomllib.loads(path.read_bytes().decode("utf-8-sig"))
    except (FileNotFoundError, NotADirectoryError):
        raise bad("there is no such file", "Check the name and the folder.") from None
    except UnicodeDecodeError as error:
        raise bad(f"byte {error.start} is not UTF-8", "Save the file as UTF-8.") from None
    except tomllib.TOMLDecodeError as error:
        raise bad(f"the TOML is broken: {error}", "Mend that line.") from None
    except RecursionError:
        raise bad("tables are nested too deeply", "Nest less.") from None
    except ValueError:  # a NUL byte in the file's name, a number of thousands of digits
        raise bad("the name or a number in the file is beyond all measure") from None
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    if _deeper_than(data, DEEPEST):
        raise bad("tables are nested too deeply", "Nest less.")
    return data


def _deeper_than(data: dict[str, Any], levels: int) -> bool:
    """True if tables and lists are nested in more than so many levels."""
    found: list[Any] = [data]
    for _ in range(levels):
        found = [
            inner
            for item in found
            for inner in (item.values() if isinstance(item, dict) else item)
            if isinstance(inner, (dict, list))
        ]
        if not found:
            return False
    return True


def checked(
    model: type[ModelType], data: dict[str, Any], file: str | Callable[[str], str]
) -> ModelType:
    """`data` as a `model`; raises `InputError` with every problem, each led by file and key.

    `file` is the file's name, or tells it by key where values come from several.
    """
    file_of = (lambda key: file) if isinstance(file, str) else file
    try:
        result = model.model_validate(data)
    except ValidationError as error:
        problems = list(_unknown_keys(model, data, file_of))
        problems += [
            _problem(file_of, found)
            for found in error.errors(include_url=False)
            if found["type"] != "extra_forbidden"  # those are in `problems`, with a suggestion
        ]
        raise InputError(problems) from None
    return result


def _unknown_keys(
    model: type[Model], data: dict[str, Any], file_of: Callable[[str], str], place: str = ""
) -> Iterator[Problem]:
    for key, value in data.items():
        if key not in model.model_fields:
            known = [*model.model_fields, *model.also_known]
            where = f"{file_of(place + key)}: {place}{key}"
            yield Problem(where, "unknown key", one_of(known), nearest(key, known))
            continue
        annotation = model.model_fields[key].annotation
        inner = _model_in(annotation)
        if inner and isinstance(value, dict) and get_origin(annotation) is dict:
            for name, item in value.items():  # a table of tables under names of any kind
                if isinstance(item, dict):
                    yield from _unknown_keys(inner, item, file_of, f"{place}{key}.{name}.")
        elif inner and isinstance(value, dict):
            yield from _unknown_keys(inner, value, file_of, f"{place}{key}.")
        elif inner and isinstance(value, list):
            for i, item in enumerate(value, 1):
                if isinstance(item, dict):
                    yield from _unknown_keys(inner, item, file_of, f"{place}{key}[{i}].")


def _model_in(annotation: Any) -> type[Model] | None:
    """The model that a field's annotation holds, if any: ``tuple[PageModel, ...]`` → PageModel."""
    if isinstance(annotation, type) and issubclass(annotation, Model):
        return annotation
    inner = (_model_in(part) for part in get_args(annotation))
    return next((found for found in inner if found), None)


_EXPECTED = {
    "bool_type": "true or false",
    "dict_type": "a table",
    "int_from_float": "a whole number",
    "int_type": "a whole number",
    "missing": "this key must be given",
    "model_type": "a table",
    "string_type": "text in quotes",
    "too_long": "a shorter list or text",
    "too_short": "at least one entry",
    "tuple_type": "a list in square brackets",
}


def _problem(file_of: Callable[[str], str], error: Any) -> Problem:
    keys = (f"[{k + 1}]" if isinstance(k, int) else f".{k}" for k in error["loc"])
    where = "".join(keys).lstrip(".")
    context = error.get("ctx", {})
    if "error" in context:  # a sentence of one of our own validators
        allowed = str(context["error"])
    elif error["type"] == "literal_error":
        allowed = context["expected"]
    elif error["type"] in ("greater_than_equal", "less_than_equal"):
        allowed = f"at least {context['ge']}" if "ge" in context else f"at most {context['le']:,}"
    else:
        allowed = _EXPECTED.get(error["type"], error["msg"].removeprefix("Input should be "))
    if error["type"] == "missing":
        came = "nothing is there"
    elif isinstance(error["input"], dict):
        came = "does not fit together" if "error" in context else "got a table"
    else:
        came = f"got {shown(error['input'])}"
    return Problem(f"{file_of(where)}: {where}" if where else file_of(where), came, allowed)
