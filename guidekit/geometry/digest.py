"""One number for all that a canvas is made of: two builds are compared at little cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from hashlib import sha256
from pathlib import Path

from guidekit.geometry.page import PagePlan
from guidekit.memory import remembered
from guidekit.raster.font import FontFile

#: What changes nothing that is drawn: the bytes of a preset's file, whose values count by
#: themselves, the name of a file, gutters, which show in the panels that they are between, and what
#: is only told of the book.
APART = {"preset_digest", "file_name", "across", "down", "reveal", "section", "creep"}


class PlanDigests:
    """Digests of plans; parts that plans share, as pages alike do, are looked at once."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[object, bytes]] = {}

    def of(self, page: PagePlan) -> str:
        """32 hexadecimal digits that differ where anything differs that a canvas shows."""
        parts = (
            self._part(getattr(page, one.name)) for one in fields(page) if one.name not in APART
        )
        return sha256(b"\n".join(parts)).hexdigest()[:32]

    def _part(self, value: object) -> bytes:
        known = self._known.get(id(value))
        if known is None:  # the value is kept, so that no other can have its place in memory
            known = self._known[id(value)] = (value, _digest(value))
        return known[1]


def plan_digest(page: PagePlan) -> str:
    """The digest of one plan; see `PlanDigests`."""
    return PlanDigests().of(page)


@remembered
def _digest(value: object) -> bytes:
    told = "".join(_told(value)).encode(errors="backslashreplace")
    return sha256(told).hexdigest().encode()


def _told(value: object) -> Iterator[str]:
    """A value as text: kinds and fields by name, no order that hangs on a run, no folder."""
    if isinstance(value, FontFile):
        yield f"{Path(value.path).name!r}:{value.number}"
    elif is_dataclass(value):
        yield type(value).__name__
        for field in fields(value):
            if field.name not in APART:
                yield f"({field.name}="
                yield from _told(getattr(value, field.name))
                yield ")"
    elif isinstance(value, (tuple, list)):
        if {*map(type, value)} <= {int, float}:  # as corners are, of which there may be thousands
            yield f"[{''.join(f'{item!r},' for item in value)}]"
            return
        yield "["
        for item in value:
            yield from _told(item)
            yield ","
        yield "]"
    elif isinstance(value, frozenset):
        yield repr(sorted(map(repr, value)))
    elif isinstance(value, dict):
        yield repr(sorted((repr(key), repr(item)) for key, item in value.items()))
    else:
        yield repr(value)
