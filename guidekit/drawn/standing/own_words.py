"""What a file of layers says of itself: the info that was written into it, if it is still there."""

from __future__ import annotations

from pathlib import Path, PurePath
from typing import BinaryIO

from guidekit.drawn.info import Info, info_of_xmp, modern
from guidekit.drawn.ora.archive import members_of
from guidekit.drawn.psd.sections import XMP, fit_sections, sections_of
from guidekit.drawn.spans.source import Source
from guidekit.drawn.unfit import UnfitError
from guidekit.layers.prints import info_key
from guidekit.store.archives import UNREADABLE, archive_in
from guidekit.store.files import open_ordinary
from guidekit.store.folder import Store
from guidekit.store.picture import NO_PICTURE, picture_in
from guidekit.store.record import FileEntry, Made
from guidekit.writers.description import info_in

#: Endings of files of layers, which say of themselves what they are.
LAYERED = {".psd": "psd", ".psb": "psd", ".ora": "ora"}

LARGEST = 10_000_000  # bytes of a description; a page of a thousand panels takes a tenth


def own_info(path: Path) -> Info | None:
    """The info in a PSD, PSB or OpenRaster file; None if there is none. Raises `OSError`."""
    with open_ordinary(path) as file:
        if file is None:
            return None
        try:
            return info_of_ora(file) if file.read(2) == b"PK" else info_of_psd(Source(file))
        except (UnfitError, *UNREADABLE):
            return None


def why_unfit(path: Path) -> tuple[str, ...]:
    """Why no guides can be put into a file, as far as its head tells; nothing if they can.

    Raises `OSError`.
    """
    with open_ordinary(path) as file:
        try:
            if file is None:
                raise UnfitError("this is no file of its own")
            if path.suffix.lower() == ".ora":
                members_of(Source(file))
            else:
                fit_sections(Source(file))
        except UnfitError as unfit:
            return (f"no guides can be put into it: {unfit.came}",)
    return ()


def recorded_info(store: Store, entry: FileEntry | None) -> Info | None:
    """The info that the record of a folder has for a file of it; None if there is none."""
    return modern(store.told(entry)) if entry else None


def note_guides(store: Store, name: str, info: Info) -> None:
    """Keep in the record of a folder what guides a drawing has, by its own words."""
    path, page = PurePath(name), info["page"]
    made = Made(path.stem, LAYERED[path.suffix.lower()], page.get("dpi", 0), info_key(info))
    store.has_guides(name, info, made)


def info_of_psd(source: Source) -> Info | None:
    """The info in the XMP packet; raises `UnfitError` for what is no PSD."""
    found = sections_of(source).resource(XMP)
    if not found or found.data.size > LARGEST:
        return None
    return info_of_xmp(source.read(found.data))


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
