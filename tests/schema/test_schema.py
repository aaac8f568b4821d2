"""JSON Schema of every kind of file, checked by a validator that is not pydantic."""

import json
import tomllib
from collections.abc import Callable, Iterator
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from support.long import shortened
from support.samples import REPOSITORY, run_here

from guidekit.issue.models.issue import Issue
from guidekit.issue.models.part import Layout
from guidekit.preset import Preset
from guidekit.schema import files
from guidekit.schema.files import KINDS, schema_of, schema_text
from guidekit.schema.kept_files import FOLDER
from guidekit.schema.spellings import LOOKING, SHORT_FORMS, VALUES
from guidekit.shipped import shipped
from guidekit.studio.lock.model import lock_text
from guidekit.studio.lock.used import used_by
from guidekit.studio.lock.written import new_lock
from guidekit.studio.pack_file.archive import read_pack

PRESETS = sorted((REPOSITORY / "presets").glob("*.toml"))
LAYOUTS = sorted((REPOSITORY / "presets" / "layouts").glob("*.toml"))
ISSUES = sorted((REPOSITORY / "examples").glob("*.toml"))
SHIPPED = [("preset", x) for x in PRESETS] + [("layout", x) for x in LAYOUTS]
SHIPPED += [("issue", x) for x in ISSUES]


HEAD = {"title": "A", "preset": "b"}


@cache  # to make one takes a while
def validator(kind: str) -> Draft202012Validator:
    """The validator of a kind of file."""
    return Draft202012Validator(schema_of(kind))


def passes(kind: str, values: Any) -> bool:
    """Whether a file with these values is right by the schema."""
    found: bool = validator(kind).is_valid(values)
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_it_is_a_schema(kind: str) -> None:
    """What is kept and printed is a JSON Schema by the standard, and what the models give now."""
    run = run_here("schema", kind)
    assert (run.code, run.err) == (0, "")
    Draft202012Validator.check_schema(json.loads(run.out))
    assert run.out == schema_text(kind), "python tests/support/keep_rows.py keeps them"
    where = run_here("schema", kind, "--where").out.strip()
    assert Path(where).read_text("utf-8") == run.out


def test_every_row_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each function of which a row says how it is written to reads some value of some file."""
    asked = set()

    def called(function: Any, name: Callable[[Any], str] = files._called) -> str:
        asked.add(name(function))
        return name(function)

    monkeypatch.setattr(files, "_called", called)
    for kind in KINDS:
        schema_of(kind)
    assert asked >= {*VALUES, *LOOKING, *SHORT_FORMS}


def test_unknown_kind() -> None:
    """A kind that there is not is refused with those that there are."""
    assert sorted(path.name for path in FOLDER.iterdir()) == sorted(f"{x}.json" for x in KINDS)
    run = run_here("schema", "presets")
    assert (run.code, run.out) == (2, "")
    assert 'Did you mean "preset"?' in run.err


@pytest.mark.parametrize(("kind", "path"), SHIPPED, ids=lambda x: getattr(x, "stem", x))
def test_shipped_files(kind: str, path: Path) -> None:
    """Every file that comes with guidekit is right by the schema of its kind."""
    errors = [*validator(kind).iter_errors(tomllib.loads(path.read_text("utf-8")))]
    assert [(error.json_path, error.message) for error in errors] == []


def test_what_is_written() -> None:
    """A lock and the card of a pack, as guidekit writes them, are right by theirs."""
    used = used_by(ISSUES[0], shipped())
    lock = json.loads(lock_text(new_lock(used, (), ["psd"])))
    assert passes("lock", lock)
    assert not passes("lock", {**lock, "version": 2})
    pack = read_pack(REPOSITORY / "examples" / "formats" / "packs" / "studio.zip")
    card = pack.card.model_dump()
    assert passes("pack", card)
    assert not passes("pack", {**card, "files": {"x": "0"}})
    assert passes("settings", {"studio_folders": ["/x"]})
    assert not passes("settings", {"studio_folders": "/x"})


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        ("preset", {"based_on": "us-comic", "trim": {"width": "9 in"}}),
        ("preset", {"based_on": "us-comic", "color": "gray", "bleed": "3 mm"}),
        ("issue", {**HEAD, "format": {"gutter": {"down": "3 mm"}}, "pages": [{"panels": 1}]}),
        ("issue", {**HEAD, "pages": [{"tiers": [2, "six-grid", {"map": "A"}]}]}),
        ("issue", {"series": "../series.toml", "pages": [{"panels": 1}]}),
        ("series", {"preset": "us-comic", "format": {"dpi": 300}, "issues": ["one", "two"]}),
        ("layout", {"a": {"columns": [{"widths": [1, "30 %", "5 mm"]}], "mirror": False}}),
    ],
)  # fmt: skip
def test_short_forms(kind: str, values: Any) -> None:
    """What may be left out, or written shorter, is right."""
    assert passes(kind, values)


def test_what_only_a_series_may_leave_out() -> None:
    """An issue without a series names its title and preset; a series has no pages."""
    assert not passes("issue", {"pages": [{"panels": 1}]})
    assert not passes("issue", {"series": "../series.toml"})
    assert not passes("series", {"pages": [{"panels": 1}]})


WRONG: tuple[Any, ...] = ({"no": 1}, [[]], 3.5, True, "", "no such thing")


def changed(values: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Each place in a file, and what stands there."""
    items: Any = values.items() if isinstance(values, dict) else enumerate(values)
    for key, value in items:
        yield (*way, key), value
        if isinstance(value, (dict, list)):
            yield from changed(value, (*way, key))


def with_other(values: Any, way: tuple[Any, ...], other: Any) -> Any:
    """The same file with another value in one place."""
    copy = deepcopy(values)
    here = copy
    for key in way[:-1]:
        here = here[key]
    here[way[-1]] = other
    return copy


def is_right(kind: str, values: Any) -> bool:
    """Whether guidekit itself takes the file, but for what only a catalogue knows."""
    models: dict[str, Any] = {"preset": Preset, "issue": Issue}
    try:
        if kind == "layout":
            for table in values.values():
                Layout.model_validate(table)
        else:
            models[kind].model_validate(values)
    except ValueError:
        return False
    return True


#: Files with much in them; each of their values is made wrong in several ways.
RICH = [
    ("preset", "presets/us-comic.toml"),
    ("preset", "presets/vertical-scroll.toml"),
    ("issue", "examples/lantern-row.toml"),
    ("issue", "examples/tide-line.toml"),
    ("layout", "presets/layouts/slanted.toml"),
]


@pytest.mark.parametrize(("kind", "name"), shortened(RICH, [RICH[0], RICH[3]]))
def test_wrong_files(kind: str, name: str) -> None:
    """The schema refuses nothing that guidekit takes, and most of what it does not take.

    Some is not for a schema to know: whether values go together, and words such as names.
    """
    values = tomllib.loads((REPOSITORY / name).read_text("utf-8"))
    assert is_right(kind, values)
    refused = missed = 0
    for way in (way for way, _ in changed(values) if way[0] != "format"):
        for other in WRONG:
            wrong = with_other(values, way, other)
            if is_right(kind, wrong):
                assert passes(kind, wrong), (way, other)
            elif passes(kind, wrong):
                missed += 1
            else:
                refused += 1
    assert refused > 50
    assert missed < refused / 4, (missed, refused)


@pytest.mark.parametrize(("kind", "name"), RICH)
def test_unknown_keys(kind: str, name: str) -> None:
    """A key that there is not is refused in every table."""
    values = tomllib.loads((REPOSITORY / name).read_text("utf-8"))
    for way in [(), *(way for way, value in changed(values) if isinstance(value, dict))]:
        wrong = with_other(values, (*way, "no_such_key"), "3 mm")
        expected = way != ("format",) and is_right(kind, wrong)  # told with the preset
        assert passes(kind, wrong) == expected, way
