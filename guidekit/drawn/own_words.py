"""What a file of layers says of itself: the info that was written into it, if it is still there."""

from __future__ import annotations

from pathlib import Path
from typing import Any, BinaryIO
from xml.etree import ElementTree as ET

from guidekit.drawn.psd.sections import XMP, sections_of
from guidekit.drawn.source import Source
from guidekit.drawn.unfit import UnfitError
from guidekit.store.archives import UNREADABLE, archive_in
from guidekit.store.files import open_ordinary
from guidekit.store.picture import NO_PICTURE, picture_in
from guidekit.writers.description import info_in

#: Endings of files of layers, which say of themselves what they are.
LAYERED = {".psd": "psd", ".psb": "psd", ".ora": "ora"}

LARGEST = 10_000_000  # bytes of a description; a page of a thousand panels takes a tenth
DUBLIN_CORE = "{http://purl.org/dc/elements/1.1/}"

#: What Python's reader raises for what is no XML, or is in letters that it does not know.
NO_XML = (ET.ParseError, ValueError, LookupError)
#: What keys were once called.
RENAMED_KEYS = {"stem": "file_name", "safe": "safe_area"}

Info = dict[str, Any]


def own_info(path: Path) -> Info | None:
    """The info in a PSD, PSB or OpenRaster file; None if there is none. Raises `OSError`."""
    with open_ordinary(path) as file:
        if file is None:
            return None
        try:
            return info_of_ora(file) if file.read(2) == b"PK" else info_of_psd(Source(file))
        except (UnfitError, *UNREADABLE):
            return None


def info_of_psd(source: Source) -> Info | None:
    """The info in the XMP packet; raises `UnfitError` for what is no PSD."""
    found = sections_of(source).resource(XMP)
    if not found or found.data.size > LARGEST:
        return None
    return info_of_xmp(source.read(found.data))


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


def info_of_ora(file: BinaryIO) -> Info | None:
    """The info among the texts of the merged image; raises what is in `UNREADABLE`."""
    with archive_in(file) as archive:
        names = set(archive.namelist())
        if "mergedimage.png" not in names or "stack.xml" not in names:
            return None
        with archive.open("mergedimage.png") as png:
            try:
                with picture_in(png, ("PNG",)) as image:
                    text = str(image.info.get("Description", ""))
            except NO_PICTURE:
                return None
    return modern(info_in(text[:LARGEST]))


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
