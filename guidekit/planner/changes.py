"""What may be asked to change, as data."""

from __future__ import annotations

from functools import cache
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError

from guidekit.errors import InputError, Problem
from guidekit.issue.tree import Axis

Number = Annotated[int, Field(ge=0, le=10_000)]
Pixels = Annotated[float, Field(ge=-100_000, le=1_000_000)]


class _Change(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class OnPage(_Change):
    """A change to one entry of ``[[pages]]``, counted from 0; to its pages on a `side`, if named.

    Without a side it is that of its first page.
    """

    page: Number
    side: Literal["left", "right"] | None = None


class Put(OnPage):
    """Values at keys of a page; None takes a key out."""

    do: Literal["put"]
    key: Annotated[list[str | int], Field(min_length=1, max_length=8)]
    value: Any = None


class PutTop(_Change):
    """A value at a key of the issue itself; None takes it out."""

    do: Literal["issue"]
    key: Annotated[list[str], Field(min_length=1, max_length=8)]
    value: Any = None


class UseLayout(OnPage):
    """A named layout in place of what fills the page."""

    do: Literal["layout"]
    name: Annotated[str, Field(max_length=250)]


class Keep(OnPage):
    """The page's own arrangement, kept as a layout of the issue."""

    do: Literal["keep"]
    name: Annotated[str, Field(max_length=100)]


class Divide(OnPage):
    """A panel into equal parts; or in two `at` a place, in pixels along the axis."""

    do: Literal["divide"]
    panel: Number
    axis: Axis
    parts: Annotated[int, Field(ge=2, le=12)] = 2
    at: Pixels | None = None


class Join(OnPage):
    """Panels into one."""

    do: Literal["join"]
    panels: Annotated[list[Number], Field(min_length=2, max_length=100)]


class Drag(OnPage):
    """The edge between two parts, `to` a place along its axis in pixels of the canvas.

    It rests at places less than `near` pixels away; if asked so, at whole lengths alone.
    """

    do: Literal["drag"]
    edge: Number
    to: Pixels
    near: Number = 0
    whole: bool = False


class LeanEdge(OnPage):
    """One end of an edge, `to` a place along its axis; the edge turns about its middle."""

    do: Literal["lean"]
    edge: Number
    first: bool
    to: Pixels
    fine: bool = False


class Pull(OnPage):
    """A point that can be dragged, `to` a place on the canvas; see `knobs`.

    It rests at places less than `near` pixels away.
    """

    do: Literal["pull"]
    knob: Number
    to: tuple[Pixels, Pixels]
    near: Number = 0


class LayOver(OnPage):
    """A panel over others: a new inset, or a new place for the `inset` counted from 0."""

    do: Literal["inset"]
    box: tuple[Pixels, Pixels, Pixels, Pixels]
    inset: Number | None = None


class LiftOff(OnPage):
    """An inset taken away."""

    do: Literal["lift"]
    inset: Number


class Bleed(OnPage):
    """A panel that runs out to the bleed on one edge of the canvas, or no longer."""

    do: Literal["bleed"]
    panel: Number
    edge: Literal["left", "top", "right", "bottom"]
    on: bool


class AddPages(_Change):
    """New pages behind an entry (-1: before the first): of a layout, or a copy of that entry."""

    do: Literal["add"]
    behind: Annotated[int, Field(ge=-1, le=10_000)]
    copy_it: bool = False
    count: Annotated[int, Field(ge=1, le=500)] = 1
    spread: bool = False


class MovePage(OnPage):
    """An entry to another place among the others."""

    do: Literal["move"]
    to: Number


class DeletePage(OnPage):
    """An entry taken away."""

    do: Literal["delete"]


class Apart(OnPage):
    """One of several pages alike (`nth`, from 0) made an entry of its own."""

    do: Literal["apart"]
    nth: Number


class Merge(OnPage):
    """A page and the one that faces it made one spread, each of them a half of it."""

    do: Literal["merge"]


class Halve(OnPage):
    """A spread made two pages, if it has halves; else two pages with its arrangement on each."""

    do: Literal["halve"]


PageChange = (
    Put | UseLayout | Keep | Divide | Join | Drag | LeanEdge | Pull | LayOver | LiftOff | Bleed
)  # fmt: skip
ListChange = AddPages | MovePage | DeletePage | Apart | Merge | Halve
Change = PutTop | PageChange | ListChange


@cache  # it checks changes of all kinds and never changes; built when the first one comes
def _reader() -> TypeAdapter[Change]:
    return TypeAdapter(Annotated[Change, Field(discriminator="do")])


def read_change(data: object) -> Change:
    """A change as the browser sends it; raises `InputError`."""
    try:
        return _reader().validate_python(data)
    except (ValidationError, RecursionError):
        raise InputError(Problem((), "this is no change that the planner knows")) from None
