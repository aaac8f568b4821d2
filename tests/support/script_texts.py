"""Scripts of a test, and what is seen of them at once."""

from pathlib import Path

from guidekit.script.reading import read_script
from guidekit.script.script import Script


def script(folder: Path, text: str | bytes, name: str = "script.txt") -> Script:
    """A script with this text."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_script(path)


def shape(read: Script) -> list[tuple[int, bool, int]]:
    """Number, whether it is a spread, and count of panels of every page."""
    return [(page.number, page.spread, len(page.panels)) for page in read.pages]
