"""Every file of a page, of whatever format, and whether anybody drew on it."""

from __future__ import annotations

from collections.abc import Container, Iterator
from pathlib import Path, PurePath
from typing import NamedTuple

from guidekit.errors import MachineError
from guidekit.store.folder import Store

BESIDE = ("-small", "-page")  # what file names of flat formats have behind that of the canvas


class PageFile(NamedTuple):
    """A file or folder of a canvas: its name, which is that of the canvas and an `ending`."""

    name: str
    canvas: str
    ending: str


def page_files(folder: Path, canvases: Container[str]) -> Iterator[PageFile]:
    """Every file and folder of these canvases, sorted. Raises `MachineError`."""
    if not folder.is_dir():
        return
    try:
        names = sorted(path.name for path in folder.iterdir())
    except OSError as error:
        raise MachineError.from_os(f"reading the folder {folder}", error) from None
    for name in names:
        is_canvas = name in canvases and (folder / name).is_dir()
        stem = name if is_canvas else PurePath(name).stem
        canvas = stem.removesuffix(next((end for end in BESIDE if stem.endswith(end)), ""))
        if canvas in canvases:
            yield PageFile(name, canvas, name.removeprefix(canvas))


def is_blank(store: Store, canvas: str) -> bool:
    """True if nobody drew on any file of a canvas.

    Raises `InputError`, `MachineError`, `OSError`.
    """
    return all(store.is_as_written(file.name) for file in page_files(store.folder, (canvas,)))
