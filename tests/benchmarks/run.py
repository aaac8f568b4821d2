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


class Run(NamedTuple):
    """Seconds from prompt to prompt and peak memory in MB."""

    seconds: float
    megabytes: float


def run(*command: str) -> Run:
    """One process, timed from its start to its end."""
    begin = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, cwd=HERE.parents[1])
    _, status, usage = os.wait4(child.pid, 0)
    if status:
        sys.exit(f"{' '.join(command)} failed")
    return Run(time.perf_counter() - begin, usage.ru_maxrss / 1024)


def median(runs: Sequence[Run]) -> Run:
    """The median of time and of memory."""
    return Run(*(statistics.median(column) for column in zip(*runs, strict=True)))


class Bench:
    """A folder to work in, and the rows of the table as they are found."""

    def __init__(self, folder: Path, times: int):
        self.folder, self.times = folder, times

    def guidekit(self, pages: int, formats: str = "psd", body: str = ISSUE) -> tuple[Run, int]:
        """A build of so many pages into an empty folder: median run, and bytes written."""
        issue, out = self.folder / "benchmark.toml", self.folder / "out"
        issue.write_text(body.format(pages=pages), "utf-8")
        runs = []
        for _ in range(self.times):
            shutil.rmtree(out, ignore_errors=True)
            command = ["build", str(issue), "--out", str(out), "--format", formats]
            runs.append(run(sys.executable, "-m", "guidekit", *command))
        size = sum(file.stat().st_size for file in out.glob(f"*.{formats}"))
        return median(runs), size

    def plain_write(self) -> float:
        """The bytes that the last build wrote, written again and flushed, without guidekit."""
        files, seconds = sorted((self.folder / "out").glob("*.psd")), []
        for _ in range(self.times):
            total = 0.0
            for file in files:
                data = file.read_bytes()
                begin = time.perf_counter()
                with (self.folder / f"{file.name}.plain").open("wb") as copy:
                    copy.write(data)
                    copy.flush()
                    os.fsync(copy.fileno())
                total += time.perf_counter() - begin
            for copy_path in self.folder.glob("*.plain"):
                copy_path.unlink()
            seconds.append(total)
        return statistics.median(seconds)

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
        for pages in (8, 320) if not chosen.quick else (8,):
            got, size = bench.guidekit(pages)
            row(f"{pages} pages, PSD", f"{got.seconds:.2f} s", f"{got.megabytes:.0f} MB", mb(size))
        psd, size = bench.guidekit(32)
        row("32 pages, PSD", f"{psd.seconds:.2f} s", f"{psd.megabytes:.0f} MB", mb(size))
        plain = bench.plain_write()
        row("  plain write of the same bytes", f"{plain:.2f} s", "", "")
        row("  times that", f"{psd.seconds / plain:.1f} ×", "", "")
        png, png_size = bench.guidekit(32, "png")
        each = f"{png.seconds / 32 * 1000:.0f} ms"
        row("32 pages, PNG of the guides, a page", each, f"{png.megabytes:.0f} MB", mb(png_size))
        if not chosen.quick:
            for kind, ours, ours_size in (("png", png, png_size), ("psd", psd, size)):
                slow, slow_size = bench.straightforward(kind)
                name = f"one page, {kind.upper()}, the straightforward way"
                memory = f"{slow.megabytes:.0f} MB"
                row(name, f"{slow.seconds:.2f} s", memory, mb(slow_size))
                time_ratio = slow.seconds / (ours.seconds / 32)
                memory_ratio = slow.megabytes / ours.megabytes
                size_ratio = slow_size / (ours_size / 32)
                row(
                    "  times guidekit's page",
                    f"{time_ratio:.0f} ×",
                    f"{memory_ratio:.0f} ×",
                    f"{size_ratio:.1f} ×",
                )


def mb(size: int) -> str:
    """Bytes as MB."""
    return f"{size / 1e6:.1f} MB"


if __name__ == "__main__":
    main()
