"""What files say of their page: the info that a build wrote into each, under the names of today."""

from __future__ import annotations

from typing import Annotated, Any
from xml.etree import ElementTree as ET

from pydantic import AfterValidator, BaseModel, Field, ValidationError

from guidekit.writers.description import info_in

DUBLIN_CORE = "{http://purl.org/dc/elements/1.1/}"

#: What Python's reader raises for what is no XML, or is in letters that it does not know.
NO_XML = (ET.ParseError, ValueError, LookupError)
#: What keys were once called.
RENAMED_KEYS = {"stem": "file_name", "safe": "safe_area"}
FAR = 10_000_000  # pixels: no canvas reaches that far

Info = dict[str, Any]

_Number = Annotated[int, Field(ge=-FAR, le=FAR)]
_Size = Annotated[list[Annotated[int, Field(ge=1, le=FAR)]], Field(min_length=2, max_length=2)]
_Edges = Annotated[list[_Number], Field(min_length=4, max_length=4)]


def _of_some_size(edges: list[int]) -> list[int]:
    left, top, right, bottom = edges
    if left >= right or top >= bottom:
        raise ValueError("a box of some size")
    return edges


class _Told(BaseModel, strict=True, defer_build=True):
    """As far as it is read; what else is told is nobody's concern here."""


class _Gutter(_Told):
    across: _Number
    down: _Number


class _Panel(_Told):
    number: int
    box: _Edges
    bleed: list[str] = []
    cut_out: list[_Edges] = []


class _Page(_Told):
    """As `guidekit.geometry.measure` tells it; not every release has told all."""

    pages: list[_Number]  # none on a cover
    part: _Number | None = None
    side: str = ""
    dpi: _Number = 1
    canvas: _Size
    bleed: _Edges
    trim: Annotated[_Edges, AfterValidator(_of_some_size)]
    safe_area: _Edges
    fold: _Number = 0
    gutter: _Gutter | None = None
    border: _Number = 0
    panels: list[_Panel] = []


class _Layer(_Told):
    """As `guidekit.layers.prints` tells it."""

    name: Annotated[list[str], Field(min_length=1)]
    box: _Edges
    sha256: str
    colour: Annotated[str, Field(pattern="^#[0-9a-f]{6}$")] | None = None
    opacity: Annotated[int, Field(ge=0, le=255)] | None = None
    hidden: bool = False


class _Whole(_Told):
    page: _Page
    layers: list[_Layer] = []
    guides: dict[str, str] = {}


def info_of_xmp(packet: bytes) -> Info | None:
    """The info in a description as Dublin Core has it, however the packet is laid out."""
    try:
        tree = ET.fromstring(packet.strip(b"\0 \t\r\n"))
    except NO_XML:
        return None
    for element in tree.iter():
        texts = [element.get(f"{DUBLIN_CORE}description")]
        if element.tag == f"{DUBLIN_CORE}description":
            texts += ["".join(item.itertext()) for item in element.iter() if not len(item)]
        for text in filter(None, texts):
            if info := modern(info_in(text)):
                return info
    return None


def modern(info: Info | None) -> Info | None:
    """An info under the names of today; None for what no build of ours has written."""
    if not info or not isinstance(info.get("page"), dict):
        return None
    page = {RENAMED_KEYS.get(key, key): value for key, value in info["page"].items()}
    found = {**info, "page": page}
    try:
        _Whole.model_validate(found)
    except ValidationError:
        return None
    return found
