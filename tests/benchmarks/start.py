"""What takes how much of the start: ``python tests/benchmarks/start.py``.

Whole processes from prompt to prompt, run in turn, the median of each. A command is compared with a
Python that imports libraries and does nothing, by the clock and by the processor's time, which a
busy machine changes less. Modules lie compiled, as an installer leaves them, and numpy starts no
threads, as in the commands. The parts of a build of one page are taken by the processor's time.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import statistics
import sys
import tempfile
from pathlib import Path

from run import ISSUE, Run, median, row, run

LIBRARIES = ("typer", "pydantic", "numpy", "PIL.Image", "psd_tools.psd")
FEW, ALL = "typer, pydantic", ", ".join(LIBRARIES)
#: What the installed command runs; ``python -m`` takes some milliseconds more to find it.
COMMAND = ("-c", "from guidekit.__main__ import main; main()")


def main() -> None:
    """Print all tables."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--times", type=int, default=11, help="runs for each median")
    times = options.parse_args().times
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    with tempfile.TemporaryDirectory() as folder:
        issue = Path(folder, "one.toml")
        issue.write_text(ISSUE.format(pages=1), "utf-8")
        commands = {
            "--version": (FEW, ["--version"]),
            "presets list": (FEW, ["presets", "list"]),
            "layouts list": (FEW, ["layouts", "list"]),
            "measure, one page": (FEW, ["measure", str(issue)]),
            "build, one page of PSD": (ALL, ["build", str(issue), "--out", f"{folder}/out"]),
        }
        imports = [", ".join(LIBRARIES[:n]) for n in range(len(LIBRARIES) + 1)]
        processes = {text: ["-c", f"import {text}" if text else "pass"] for text in imports}
        processes |= {what: [*COMMAND, *given] for what, (_, given) in commands.items()}
        for number in (0, 50):
            call = beside_plugins(Path(folder, f"site {number}"), number)
            for words in ("--version", "presets list"):
                what = f"{words}, {number} plug-ins"
                commands[what] = (FEW, [])
                processes[what] = ["-c", call.format(words=words.split())]
        out = Path(folder, "out")
        found = measured(processes, times, out)
        parts = parts_of_a_build(issue, out, times)
    row("the start of", "ms", "times", "processor", "of")
    row("---", "---:", "---:", "---:", "---")
    before = 0.0
    for name, text in zip(("Python alone", *LIBRARIES), imports, strict=True):
        row(name, f"{(found[text].seconds - before) * 1000:.0f}", "", "", "")
        before = found[text].seconds
    for what, (libraries, _) in commands.items():
        most = "all these libraries" if libraries == ALL else libraries
        took, bare = found[what], found[libraries]
        ratios = f"{took.seconds / bare.seconds:.2f}", f"{took.processor / bare.processor:.2f}"
        row(f"guidekit {what}", f"{took.seconds * 1000:.0f}", *ratios, most)
    row("of a build of one page of PSD", "ms", "%", "")
    row("---", "---:", "---:", "---")
    whole = sum(parts.values())
    for what, each in parts.items():
        row(what, f"{each:.0f}", f"{each / whole * 100:.0f}", "")


def beside_plugins(site: Path, number: int) -> str:
    """The code of a process beside so many plug-ins, each with a preset; ``{words}`` is run."""
    for plugin in range(number):
        presets = site / f"guest{plugin}" / "presets"
        presets.mkdir(parents=True)
        (presets / f"guest-{plugin}.toml").write_text('based_on = "us-comic"\n', "utf-8")
        info = site / f"guest{plugin}-1.0.dist-info"
        info.mkdir()
        head = f"Metadata-Version: 2.1\nName: guest{plugin}\nVersion: 1.0\n"
        (info / "METADATA").write_text(head, "utf-8")
        points = f"[guidekit.presets]\nguest = guest{plugin}.presets\n"
        (info / "entry_points.txt").write_text(points, "utf-8")
    return (
        f"import sys; sys.path.append({str(site)!r}); sys.argv = ['guidekit', *{{words}}]; "
        "from guidekit.cli import main; main()"
    )


def parts_of_a_build(issue: Path, out: Path, times: int) -> dict[str, float]:
    """The median milliseconds of the processor that each part of a build takes."""
    told, found = issue.with_suffix(".json"), list[dict[str, float]]()
    for turn in range(times + 1):
        shutil.rmtree(out, ignore_errors=True)
        whole = run(sys.executable, "-m", "tests.benchmarks.parts", *map(str, (issue, out, told)))
        parts = json.loads(told.read_text("utf-8"))
        end = whole.processor - sum(parts.values())
        if turn:
            found.append({**parts, "the end of the process": end})
    return {name: statistics.median(one[name] for one in found) * 1000 for name in found[0]}


def measured(processes: dict[str, list[str]], times: int, out: Path) -> dict[str, Run]:
    """The median of each process; all run in turn, so that a slow moment meets all."""
    runs: dict[str, list[Run]] = {what: [] for what in processes}
    for turn in range(times + 1):
        for what, arguments in processes.items():
            shutil.rmtree(out, ignore_errors=True)
            done = run(sys.executable, *arguments)
            if turn:  # the first run warms the disk and compiles
                runs[what].append(done)
    return {what: median(seen) for what, seen in runs.items()}


if __name__ == "__main__":
    main()
