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
    """Seconds that a copy of the files takes, each flushed."""
    begin = time.perf_counter()
    for file in files:
        with file.open("rb") as source, to.open("wb") as target:
            shutil.copyfileobj(source, target, 1 << 20)
            target.flush()
            os.fsync(target.fileno())
    seconds = time.perf_counter() - begin
    to.unlink()
    return seconds


def drawn_pages(folder: Path, pages: int) -> None:
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
    shutil.rmtree(out / "before")
    size = sum(file.stat().st_size for file in files)
    one, times = [], []
    for gutter in ("0.25 in", "0.22 in", "0.25 in", "0.22 in"):
        issue(path, gutter, pages)
        copied = plain_copy(files[:1], folder / "copy")
        one.append(guidekit("refresh", path, "--out", out, "--pages", 1))
        times.append(one[-1].seconds / copied)
    issue(path, "0.25 in", pages)
    copied = plain_copy(files, folder / "copy")
    done = guidekit("refresh", path, "--out", out, "--pages", f"1-{pages}")
    usual = median(one)
    row("a drawn page, 12 painted layers",
        f"{usual.seconds:.1f} s", f"{usual.megabytes:.0f} MB", mb(size / pages))  # fmt: skip
    row("  times a plain copy just before", f"{statistics.median(times):.1f} ×", "", "")
    row("a drawn page, 12 painted layers, its preview made anew",
        f"{first.seconds:.1f} s", f"{first.megabytes:.0f} MB", mb(size / pages))  # fmt: skip
    row(f"{pages} drawn pages, 12 painted layers each",
        f"{done.seconds:.1f} s", f"{done.megabytes:.0f} MB", mb(size))  # fmt: skip
    row("  plain copy of the same files", f"{copied:.1f} s", "", "")
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
    options.add_argument("--paint", type=Path, help=argparse.SUPPRESS)
    chosen = options.parse_args()
    if chosen.paint:
        paint(chosen.paint)
        return
    pages = chosen.pages
    with tempfile.TemporaryDirectory() as name:
        row("what", "time", "memory", "bytes")
        row("---", "---:", "---:", "---:")
        many_files(Path(name))
        drawn_pages(Path(name), pages)


if __name__ == "__main__":
    main()
