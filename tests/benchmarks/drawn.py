"""Pages that are drawn on: ``python tests/benchmarks/drawn.py``, timed from prompt to prompt.

A page at 600 dpi with 12 painted layers, as many as `--pages` says, and what a plain copy of the
same files takes, flushed to the disk; the status of 1,000 files, of which none has changed.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import sys
import tempfile
import time
from itertools import cycle
from pathlib import Path
from typing import Any

import numpy as np
from psd_tools.compression import compress
from psd_tools.constants import Compression
from psd_tools.psd.layer_and_mask import ChannelData
from run import Run, mb, median, row, run

sys.path.insert(0, str(Path(__file__).parents[1]))
from support.painting import Page

LAYERS = 12
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


def paint(path: Path) -> None:
    """Fill all layers of a page: blocks of every colour, half of them clear."""
    page, random = Page.open(path), np.random.default_rng(1)
    width, height = page.psd.header.width, page.psd.header.height
    blocks = random.integers(0, 256, (height // 4 + 1, width // 4 + 1), np.uint8)
    for number in range(LAYERS):
        record, channels = page.entries[page.place(f"Layer {number}")]
        record.left, record.top, record.right, record.bottom = 0, 0, width, height
        for n, info in enumerate(record.channel_info):
            plane: Any = np.roll(blocks, 7 * n + number, 1).repeat(4, 0).repeat(4, 1)
            plane = plane[:height, :width].copy()
            if info.id == -1:
                plane[plane < 128] = 0
            packed = compress(plane.tobytes(), Compression.RLE, width, height, 8, 1)
            channels[n] = ChannelData(Compression.RLE, packed)
    page.save(path)


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
        drawn_pages(Path(name), chosen.pages, chosen.times)


if __name__ == "__main__":
    main()
