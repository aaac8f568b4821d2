"""What files say of their page: the info that a build wrote into each, under the names of today."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree as ET

from guidekit.writers.description import info_in

DUBLIN_CORE = "{http://purl.org/dc/elements/1.1/}"

#: What Python's reader raises for what is no XML, or is in letters that it does not know.
NO_XML = (ET.ParseError, ValueError, LookupError)
#: What keys were once called.
RENAMED_KEYS = {"stem": "file_name", "safe": "safe_area"}

Info = dict[str, Any]


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
    lists = {"canvas": 2, "bleed": 4, "trim": 4, "safe_area": 4}
    if not all(_numbers(page.get(key), count) for key, count in lists.items()):
        return None
    numbers = page.get("pages")  # none on a cover
    if numbers != [] and not _numbers(numbers, None):
        return None
    if not isinstance(info.get("layers", []), list) or not _are_panels(page.get("panels", [])):
        return None
    return {**info, "page": page}


def _are_panels(panels: object) -> bool:
    """True for a list of panels as builds tell them."""
    if not isinstance(panels, list) or not all(isinstance(panel, dict) for panel in panels):
        return False
    boxes = [panel.get("box") for panel in panels]
    cuts = [panel.get("cut_out", []) for panel in panels]
    if not all(isinstance(some, list) for some in cuts):
        return False
    numbers = all(isinstance(panel.get("number"), int) for panel in panels)
    return numbers and all(
        _numbers(box, 4) for box in (*boxes, *(x for some in cuts for x in some))
    )


def _numbers(value: object, count: int | None) -> bool:
    """True for a list of so many whole numbers; of some if that is not said."""
    if not isinstance(value, list) or not value or (count and len(value) != count):
        return False
    return all(isinstance(item, int) for item in value)
