"""Pages that are drawn on: ``python tests/benchmarks/drawn.py``, timed from prompt to prompt.

A page at 600 dpi with 12 painted layers, as many as `--pages` says, and what a plain copy of the
same files takes, flushed to the disk; one such page as OpenRaster; the status of 1,000 files, of
which none has changed.
"""

from __future__ import annotations

import argparse
import io
import os
import shutil
import statistics
import sys
import tempfile
import time
import zipfile
from itertools import cycle
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from psd_tools.compression import compress
from psd_tools.constants import Compression
from psd_tools.psd.layer_and_mask import ChannelData
from run import Run, mb, median, row, run

sys.path.insert(0, str(Path(__file__).parents[1]))
from support.painting import Page

LAYERS, ALPHA = 12, 3
ISSUE = """\
title = "Heavy"
preset = "us-comic"
[format]
gutter = "{gutter}"
drawing = [{layers}]
[[pages]]
count = {pages}
tiers = [2, 3, 1]
"""
MANY = 'title = "Many"\npreset = "us-comic"\n[[pages]]\ncount = 1000\ntiers = [2, 3, 1]\n'


def issue(path: Path, gutter: str, pages: int) -> None:
    """The issue with this gutter."""
    layers = ", ".join(f'"Layer {number}"' for number in range(LAYERS))
    path.write_text(ISSUE.format(gutter=gutter, layers=layers, pages=pages), "utf-8")


class Painted:
    """What is painted on a page: blocks of every colour, half of them clear."""

    def __init__(self, width: int, height: int):
        self.width, self.height = width, height
        blocks = (height // 4 + 1, width // 4 + 1)
        self.blocks = np.random.default_rng(1).integers(0, 256, blocks, np.uint8)

    def plane(self, layer: int, channel: int) -> NDArray[np.uint8]:
        """A channel of a layer: red, green, blue, or alpha as the fourth."""
        plane = np.roll(self.blocks, 7 * channel + layer, 1).repeat(4, 0).repeat(4, 1)
        plane = plane[: self.height, : self.width].copy()
        if channel == ALPHA:
            plane[plane < 128] = 0
        return plane


def paint(path: Path) -> None:
    """Fill all layers of a page."""
    if path.suffix == ".ora":
        paint_ora(path)
        return
    page = Page.open(path)
    width, height = page.psd.header.width, page.psd.header.height
    painted = Painted(width, height)
    for number in range(LAYERS):
        record, channels = page.entries[page.place(f"Layer {number}")]
        record.left, record.top, record.right, record.bottom = 0, 0, width, height
        for n, info in enumerate(record.channel_info):
            plane = painted.plane(number, ALPHA if info.id == -1 else info.id)
            packed = compress(plane.tobytes(), Compression.RLE, width, height, 8, 1)
            channels[n] = ChannelData(Compression.RLE, packed)
    page.save(path)


def paint_ora(path: Path) -> None:
    """The same in OpenRaster, by Pillow."""
    with zipfile.ZipFile(path) as file:
        data = {name: file.read(name) for name in file.namelist()}
    image = ElementTree.fromstring(data["stack.xml"])
    painted = Painted(int(image.get("w", "")), int(image.get("h", "")))
    layers = {layer.get("name"): layer for layer in image.iter("layer")}
    for number in range(LAYERS):
        layer, saved = layers[f"Layer {number}"], io.BytesIO()
        planes = np.dstack([painted.plane(number, channel) for channel in range(4)])
        Image.fromarray(planes).save(saved, "PNG", compress_level=1)
        data[layer.get("src", "")] = saved.getvalue()
        layer.attrib.update(x="0", y="0")
    data["stack.xml"] = ElementTree.tostring(image)
    with zipfile.ZipFile(path, "w") as file:
        for name, content in data.items():
            file.writestr(name, content)


def guidekit(*arguments: object) -> Run:
    """One run of the command line."""
    return run(sys.executable, "-m", "guidekit", *map(str, arguments))


def plain_copy(files: list[Path], to: Path) -> float:
    """Seconds that a copy of the files takes, each flushed.

    They are written over each other, into memory that the system has at hand: copies that stay take
    up to three times as long where that is a virtual machine.
    """
    begin = time.perf_counter()
    for file in files:
        with file.open("rb") as source, to.open("wb") as target:
            shutil.copyfileobj(source, target, 1 << 17)
            target.flush()
            os.fsync(target.fileno())
    seconds = time.perf_counter() - begin
    to.unlink()
    return seconds


def drawn_pages(folder: Path, pages: int, times: int) -> None:
    """The rows for pages that are drawn on."""
    path, out = folder / "heavy.toml", folder / "out"
    issue(path, "0.2 in", pages)
    guidekit("build", path, "--out", out)
    files = sorted(out.glob("*.psd"))
    run(sys.executable, __file__, "--paint", str(files[0]))  # apart: memory is inherited
    issue(path, "0.22 in", pages)
    first = guidekit("refresh", path, "--out", out)  # of a file whose preview is an old one
    for file in files[1:]:
        shutil.copy(files[0], file)
    size = sum(file.stat().st_size for file in files)
    gutters = cycle(("0.25 in", "0.22 in"))

    def beside_copies(some: list[Path]) -> tuple[Run, float]:
        """The median of refreshes and of plain copies, which take turns."""
        runs, copies = [], []
        for _ in range(times):
            shutil.rmtree(out / "before")
            copies.append(plain_copy(some, folder / "copy"))
            issue(path, next(gutters), pages)
            runs.append(guidekit("refresh", path, "--out", out, "--pages", f"1-{len(some)}"))
        return median(runs), statistics.median(copies)

    row("a drawn page, 12 painted layers, its preview made anew",
        f"{first.seconds:.1f} s", f"{first.megabytes:.0f} MB", mb(size / pages))  # fmt: skip
    for name, some in (
        ("a drawn page, 12 painted layers", files[:1]),
        (f"{pages} drawn pages, 12 painted layers each", files),
    ):
        done, copied = beside_copies(some)
        row(name, f"{done.seconds:.1f} s", f"{done.megabytes:.0f} MB", mb(size / pages * len(some)))
        row("  plain copy of the same", f"{copied:.1f} s", "", "")
        row("  times that", f"{done.seconds / copied:.1f} ×", "", "")


def drawn_ora(folder: Path, times: int) -> None:
    """The row for a page as OpenRaster, of which all layers are unpacked each time."""
    path, out = folder / "ora.toml", folder / "ora"
    issue(path, "0.2 in", 1)
    guidekit("build", path, "--out", out, "--format", "ora")
    (file,) = out.glob("*.ora")
    run(sys.executable, __file__, "--paint", str(file))
    runs = []
    for gutter, _ in zip(cycle(("0.22 in", "0.25 in")), range(times), strict=False):
        issue(path, gutter, 1)
        runs.append(guidekit("refresh", path, "--out", out))
    done = median(runs)
    row("a drawn page of OpenRaster, 12 painted layers",
        f"{done.seconds:.1f} s", f"{done.megabytes:.0f} MB", mb(file.stat().st_size))  # fmt: skip


def many_files(folder: Path) -> None:
    """The rows for the status of many files."""
    path, out = folder / "many.toml", folder / "many"
    path.write_text(MANY, "utf-8")
    guidekit("build", path, "--out", out, "--dpi", 60, "--quiet")
    time.sleep(3)  # what is younger than two seconds is hashed again
    first = guidekit("status", path, "--out", out, "--dpi", 60)
    again = median([guidekit("status", path, "--out", out, "--dpi", 60) for _ in range(5)])
    row(
        "status of 1,000 files, all hashed",
        f"{first.seconds:.2f} s",
        f"{first.megabytes:.0f} MB",
        "",
    )
    row(
        "status of 1,000 files, none changed",
        f"{again.seconds:.2f} s",
        f"{again.megabytes:.0f} MB",
        "",
    )


def main() -> None:
    """Print the rows."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--pages", type=int, default=24, help="drawn pages of 600 MB each")
    options.add_argument("--times", type=int, default=3, help="runs, of which the median is shown")
    options.add_argument("--paint", type=Path, help=argparse.SUPPRESS)
    chosen = options.parse_args()
    if chosen.paint:
        paint(chosen.paint)
        return
    with tempfile.TemporaryDirectory() as name:
        row("what", "time", "memory", "bytes")
        row("---", "---:", "---:", "---:")
        many_files(Path(name))
        drawn_ora(Path(name), chosen.times)
        drawn_pages(Path(name), chosen.pages, chosen.times)


if __name__ == "__main__":
    main()
