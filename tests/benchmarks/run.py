"""How fast and how small: whole processes, median of several runs, ratios within one run."""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent
ISSUE = """\
title = "Benchmark"
preset = "us-comic"
[[pages]]
count = {pages}
tiers = [2, 3, 1]
"""
SLANTED = """\
title = "Benchmark"
preset = "us-comic"
[[pages]]
count = {pages}
tiers = [
  {{ panels = 2, slant = "8 deg" }},
  {{ columns = [{{ tiers = [1, 2], slant = "0.4 in" }}, 1], slant = "-0.3 in" }},
  3,
]
heights = [1, 2, 1]
slants = ["0.2 in", "0 in"]
insets = [{{ over = 6, width = "40 %", height = "30 %", corner = "bottom-right" }}]
"""
FREE = """\
title = "Benchmark"
preset = "us-comic"
[[pages]]
count = {pages}
tiers = [2, 3, 2, 2]
insets = [
  {{ within = "bleed", at = ["60 %", "20 %"], width = "50 %", height = "20 %", ellipse = true }},
  {{ over = [6, 9], at = ["20 %", "40 %"], width = "50 %", height = "30 %", tilt = "-7 deg" }},
  {{ within = "frame", points = [["5 %", "80 %"], ["40 %", "90 %"], ["20 %", "95 %"]] }},
]
[pages.panel]
1.tilt = "5 deg"
2.cut_corners = "0.2 in"
3.stepped_corners = "0.2 in"
4.ellipse = true
5.points = [["0 %", "0 %"], ["99 %", "20 %"], ["60 %", "50 %"], ["99 %", "99 %"], ["0 %", "90 %"]]
6 = {{ tilt = "-3 deg", radius = "0.1 in" }}
7.break_out.left = "0.4 in"
8 = {{ ellipse = true, tilt = "20 deg" }}
9.figures = [{{ name = "Cat", points = [["10 %", "20 %"], ["40 %", "-20 %"], ["60 %", "20 %"]] }}]
"""
EVERY_GUIDE = """\
title = "Benchmark"
preset = "us-comic"
[format]
square_grid = "0.25 in"
fold_strip = "0.5 in"
[guides]
lettering_lines = "shown"
construction_lines = "shown"
diagonals = "shown"
thirds = "shown"
panel_centre_lines = "shown"
centre_lines = "shown"
trim_marks = "shown"
[[pages]]
count = {pages}
tiers = [2, 3, 1]
[pages.perspective]
horizon = "40 %"
points = ["-20 %", "120 %"]
third = ["50 %", "300 %"]
wall = {{ near = "90 %", far = "20 %", top = "10 %", bottom = "90 %", parts = 4 }}
"""
MASKS = ISSUE.replace("[[pages]]", '[format]\npanel_groups = ["Inks", "Colours"]\n[[pages]]')
THOUSAND = ISSUE.replace("[2, 3, 1]", f'{[40] * 25}\ngutter = "1 px"')
#: Tiers of panels: pages of 1, 10, 45, 56, 80 and 200 of them.
GROUPS = [[1], [5] * 2, [9] * 5, [8] * 7, [10] * 8, [20] * 10]


#: A page's bytes before Deflate, 4 bits or 4 bytes a pixel, over its greatest ratio of 1032 to 1.
PIXELS = 4125 * 6300
DEFLATE_FLOOR = {
    "png": PIXELS * 4 / 1032,
    "png-small": PIXELS / 2 / 1032,
    "tiff": PIXELS * 4 / 1032,
}


class Run(NamedTuple):
    """Seconds from prompt to prompt, peak memory in MB, seconds of the processor."""

    seconds: float
    megabytes: float
    processor: float


def run(*command: str) -> Run:
    """One process, timed from its start to its end; modules are compiled once, as for any user."""
    kept = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    begin = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, cwd=HERE.parents[1], env=kept)
    _, status, usage = os.wait4(child.pid, 0)
    if status:
        sys.exit(f"{' '.join(command)} failed")
    processor = usage.ru_utime + usage.ru_stime
    return Run(time.perf_counter() - begin, usage.ru_maxrss / 1024, processor)


def median(runs: Sequence[Run]) -> Run:
    """The median of each."""
    return Run(*(statistics.median(column) for column in zip(*runs, strict=True)))


class Bench:
    """A folder to work in, and the rows of the table as they are found."""

    def __init__(self, folder: Path, times: int) -> None:
        self.folder, self.times = folder, times

    def guidekit(self, pages: int, formats: str = "psd", body: str = ISSUE) -> tuple[Run, int]:
        """A build of so many pages into an empty folder: median run, and bytes written."""
        runs = [self._build(pages, formats, body) for _ in range(self.times)]
        return median(runs), self._written()

    def against_plain_write(self, pages: int) -> tuple[Run, int, float]:
        """The same, and the seconds of `plain_write`; builds and writes take turns."""
        pairs = [(self._build(pages), self.plain_write()) for _ in range(self.times)]
        builds, writes = zip(*pairs, strict=True)
        return median(builds), self._written(), statistics.median(writes)

    def _build(self, pages: int, formats: str = "psd", body: str = ISSUE) -> Run:
        issue, out = self.folder / "benchmark.toml", self.folder / "out"
        issue.write_text(body.format(pages=pages), "utf-8")
        shutil.rmtree(out, ignore_errors=True)
        command = ["build", str(issue), "--out", str(out), "--format", formats]
        return run(sys.executable, "-m", "guidekit", *command)

    def _written(self) -> int:
        files = (self.folder / "out").iterdir()
        return sum(file.stat().st_size for file in files if not file.name.startswith("."))

    def page_row(self, what: str, formats: str = "psd", body: str = ISSUE) -> tuple[Run, int]:
        """A row for one page of a build of 32."""
        got, size = self.guidekit(32, formats, body)
        each = f"{got.seconds / 32 * 1000:.0f} ms"
        row(f"a page of 32, {what}", each, f"{got.megabytes:.0f} MB", mb(size / 32))
        return got, size

    def overview_rows(self, kind: str) -> None:
        """What an overview takes of each page of a small, a long and a very long book."""
        for pages in (10, 100, 200, 1_000):
            issue, out = self.folder / "book.toml", self.folder / f"book.{kind}"
            issue.write_text(book(pages), "utf-8")
            call = (sys.executable, "-m", "guidekit", "overview", str(issue), "--out", str(out))
            got = median([run(*call) for _ in range(self.times)])
            each = f"{got.processor / pages * 1000:.1f} ms"
            what = f"overview of {pages:,} pages, {kind.upper()}: {got.processor:.2f} s, a page"
            row(what, each, f"{got.megabytes:.0f} MB", mb(out.stat().st_size))

    def rate_rows(self) -> None:
        """What a page takes of the processor in a short, a long and a very long book."""
        for pages in (10, 100, 1_000):
            got, size = self.guidekit(pages, "png")
            each = f"{got.processor / pages * 1000:.1f} ms"
            row(f"a page of {pages:,}, PNG", each, f"{got.megabytes:.0f} MB", mb(size / pages))

    def plain_write(self) -> float:
        """The bytes that the last build wrote, written again and flushed, without guidekit."""
        copy, seconds = self.folder / "plain", 0.0
        for file in sorted((self.folder / "out").glob("*.psd")):
            data = file.read_bytes()
            begin = time.perf_counter()
            with copy.open("wb") as opened:
                opened.write(data)
                opened.flush()
                os.fsync(opened.fileno())
            seconds += time.perf_counter() - begin
            copy.unlink()
        return seconds

    def straightforward(self, kind: str) -> tuple[Run, int]:
        """One page made with Pillow and psd-tools as one would at first."""
        path = self.folder / f"straightforward.{kind}"
        done = run(sys.executable, str(HERE / "straightforward.py"), str(path))
        return done, path.stat().st_size


def row(what: str, *figures: str) -> None:
    """One line of the table."""
    print(f"| {what:58} | {' | '.join(f'{figure:>12}' for figure in figures)} |", flush=True)


def main() -> None:
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--quick", action="store_true", help="leave out the slow rows")
    options.add_argument("--times", type=int, default=5, help="runs for each median")
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(Path(folder), chosen.times)
        row("what", "time", "memory", "bytes")
        row("---", "---:", "---:", "---:")
        start = median([run(sys.executable, "-m", "guidekit", "--version") for _ in range(11)])
        row("guidekit --version", f"{start.seconds * 1000:.0f} ms", f"{start.megabytes:.0f} MB", "")
        for what, pages, body in (("a page of 1,000 panels", 1, THOUSAND), ("8 pages", 8, ISSUE)):
            got, size = bench.guidekit(pages, body=body)
            row(f"{what}, PSD", f"{got.seconds:.2f} s", f"{got.megabytes:.0f} MB", mb(size))
        empty = median([run(sys.executable, "-c", "pass") for _ in range(11)]).seconds
        for pages in (320, 32) if not chosen.quick else (32,):
            psd, size, plain = bench.against_plain_write(pages)
            took, memory = f"{psd.seconds:.2f} s", f"{psd.megabytes:.0f} MB"
            row(f"{pages} pages, PSD", took, memory, mb(size))
            row("  plain write of the same bytes", f"{plain:.2f} s", "", "")
            times = (psd.seconds - empty) / plain
            row("  times that, without the interpreter's start", f"{times:.1f} ×", "", "")
        row("  bytes, times the PackBits floor", "", "", f"{size / 32 / psd_floor(bench):.2f} ×")
        bench.page_row("PSD, nesting, slants and an inset", body=SLANTED)
        bench.page_row("PSD, twelve free panels", body=FREE)
        bench.page_row("PSD, every guide shown", body=EVERY_GUIDE)
        bench.page_row("PSD, groups and masks for each panel", body=MASKS)
        for tiers in GROUPS:
            body = MASKS.replace("[2, 3, 1]", str(tiers))
            bench.page_row(f"PSD, {sum(tiers)} panels with groups and masks", body=body)
        found = {"psd": (psd, size)}
        for name in ("png", "png-small", "ora", "tiff", "pdf", "svg"):
            found[name] = bench.page_row(name.upper(), name)
            if name in DEFLATE_FLOOR:
                times = found[name][1] / 32 / DEFLATE_FLOOR[name]
                row("  bytes, times the Deflate floor", "", "", f"{times:.2f} ×")
        if not chosen.quick:
            bench.rate_rows()
        for kind in ("html", "png", "pdf"):
            bench.overview_rows(kind)
        for kind in ("png", "tiff", "ora", "psd") if not chosen.quick else ():
            ours, ours_size = found[kind]
            slow, slow_size = bench.straightforward(kind)
            name = f"one page, {kind.upper()}, the straightforward way"
            row(name, f"{slow.seconds:.2f} s", f"{slow.megabytes:.0f} MB", mb(slow_size))
            row(
                "  times guidekit's page",
                f"{slow.seconds / (ours.seconds / 32):.0f} ×",
                f"{slow.megabytes / ours.megabytes:.0f} ×",
                f"{slow_size / (ours_size / 32):.1f} ×",
            )


def book(pages: int) -> str:
    """An issue of so many pages of six panels, of which a hundred differ."""
    tiers = (f"[{{ widths = [{n % 100 + 10}, 60] }}, 3, 1]" for n in range(pages))
    head = 'title = "Benchmark"\npreset = "us-comic"\nbinding = "perfect"\n'
    return head + "".join(f"[[pages]]\ntiers = {one}\n" for one in tiers)


def psd_floor(bench: Bench) -> int:
    """The bytes that PackBits takes at least for the first page that was built.

    A row of w equal bytes takes two for every 128, and two for its length; every layer has four
    channels, the merged image three.
    """
    from psd_tools.psd import PSD

    with next(iter(sorted((bench.folder / "out").glob("*.psd")))).open("rb") as file:
        psd = PSD.read(file)
    boxes = [
        (record.right - record.left, record.bottom - record.top, len(record.channel_info))
        for record, _ in psd._iter_layers()
    ]
    boxes.append((psd.header.width, psd.header.height, 3))
    return sum(h * n * (2 + 2 * -(-w // 128)) for w, h, n in boxes)


def mb(size: float) -> str:
    """Bytes as MB."""
    return f"{size / 1e6:.1f} MB"


if __name__ == "__main__":
    main()
