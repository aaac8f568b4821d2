"""Small files that would exhaust a machine: any of 1 MB is answered at little cost."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from support.long import long, shortened
from support.samples import HEAD, SPLASH, environment

MB = 1_000_000
#: Of the processor, and twice what a file may cost on a machine of two cores that is at rest.
SECONDS = 4
MEMORY = 300  # MB
PAGE = f"{HEAD}[[pages]]\n"
SCROLL = 'title = "x"\npreset = "vertical-scroll"\n'
FORTY = f'tiers = [{"40, " * 25}]\ngutter = "1 px"\n'  # a thousand panels


def filled(unit: str) -> str:
    """A megabyte of the same."""
    return unit * (MB // len(unit))


def numbered(form: str, number: int) -> str:
    """Lines that differ by a number."""
    return "".join(form.format(i) for i in range(number))


def scroll_of(keys: str, item: str) -> str:
    """A scroll of as many items as there may be."""
    return f"{SCROLL}{keys}[[pages]]\nscroll = [{f'{{ {item} }},' * 2_000}]\n"


FILES: dict[str, Callable[[], str]] = {
    "a key of 40 KB": lambda: f"a{'.a' * 20_000} = 1\n",
    "a key of a megabyte": lambda: f"a{'.a' * 500_000} = 1\n",
    "many long keys": lambda: numbered(f"k{{}}{'.a' * 99} = 1\n", 4_800),
    "many long headings": lambda: numbered(f"[k{{}}{'.a' * 20}]\n", 20_000),
    "100,000 unknown keys": lambda: numbered("k{} = 1\n", 95_000) + HEAD + SPLASH,
    "unknown tables": lambda: HEAD + SPLASH + numbered("[t{}]\nx = 1\n", 70_000),
    "unknown keys of a page": lambda: PAGE + numbered("k{} = 1\n", 95_000),
    "unknown keys of the format": lambda: f"{HEAD}{SPLASH}[format]\n"
    + numbered("k{} = 1\n", 90_000),
    "unknown guides": lambda: f"{HEAD}{SPLASH}[guides]\n" + numbered('g{} = "on"\n', 70_000),
    "empty pages": lambda: HEAD + filled("[[pages]]\n"),
    "9,999 pages": lambda: HEAD + SPLASH * 9_999,
    "9,999 pages that differ": lambda: HEAD
    + numbered('[[pages]]\ntiers = [2, 3, 1]\nnote = "{}"\n', 9_999),
    "9,999 wrong pages": lambda: HEAD
    + numbered('[[pages]]\ntiers = [9]\ngutter = "{} in"\n', 9_999),
    "9,999 pages of a thousand panels": lambda: f"{PAGE}count = 9999\n{FORTY}",
    "pages of a thousand panels": lambda: HEAD
    + numbered(f"[[pages]]\nradius = \"{{}} px\"\n{FORTY}", 6_000),
    "a thousand panels": lambda: PAGE + FORTY,
    "a thousand panels that break out": lambda: PAGE
    + FORTY
    + numbered('panel.{}.break_out.left = "0.5 px"\n', 1_001).partition("\n")[2],
    "a thousand slanted panels": lambda: PAGE
    + 'gutter = "2 px"\ntiers = ['
    + '{ panels = 40, slant = "1 deg" },' * 25
    + "]\n",
    "perspectives": lambda: PAGE
    + FORTY
    + numbered(
        'panel.{}.perspective = {{ horizon = "5 %", points = ["1 %", "9 %"], rays = "1 deg" }}\n',
        1_001,
    ).partition("\n")[2],
    "pages of one panel and another inset": lambda: HEAD
    + numbered(
        '[[pages]]\npanels = "splash"\n'
        'insets = [{{ over = 1, width = "{} px", height = "9 %", corner = "top-left" }}]\n',
        9_500,
    ),
    "round corners": lambda: HEAD
    + numbered('[[pages]]\npanels = "splash"\nradius = "{} px"\n', 9_999),
    "ellipses over each other": lambda: f'{PAGE}panels = "splash"\ninsets = ['
    + numbered(
        '{{ within = "frame", at = ["{0} px", "{0} px"], width = "40 %", height = "40 %", '
        "ellipse = true }},",
        200,
    )
    + "]\n",
    "a thousand figures": lambda: PAGE
    + FORTY
    + numbered(
        'panel.{}.figures = [{{ name = "x", ellipse = true, gutter = "1 mm" }}]\n', 1_001
    ).partition("\n")[2],
    "tiers of nothing": lambda: f"{PAGE}tiers = [{filled('0,')}]\n",
    "tiers of lists": lambda: f"{PAGE}tiers = [{filled('[],')}]\n",
    "tiers of tables": lambda: f"{PAGE}tiers = [{filled('{},')}]\n",
    "widths": lambda: f"{PAGE}columns = [1]\nwidths = [{filled('1,')}]\n",
    "wrong widths": lambda: f"{PAGE}columns = [1]\nwidths = [{filled(chr(39) * 2 + ',')}]\n",
    "insets": lambda: f"{PAGE}panels = 1\ninsets = [{filled('{},')}]\n",
    "entries of panels": lambda: f"{PAGE}panels = 1\n"
    + numbered('panel.p{}.bleed = "all"\n', 40_000),
    "layouts": lambda: HEAD + SPLASH + numbered("[layouts.l{}]\npanels = 1\n", 35_000),
    "a map of one line": lambda: f'{PAGE}map = "{filled("A ")}"\n',
    "a map of one word": lambda: f'{PAGE}map = "{filled("A")}"\n',
    "lists in lists": lambda: f"{PAGE}tiers = [{filled('[' * 90 + ']' * 90 + ',')}]\n",
    "lists without an end": lambda: filled("["),
    "a scroll of small screens": lambda: scroll_of(
        'format.scroll.screen = "1 px"\n', 'height = "20000 px"'
    ),
    "a tall scroll": lambda: scroll_of("", 'height = "9 screens"'),
    "a square grid": lambda: f'{HEAD}format.dpi = 10000\nformat.square_grid = "4 px"\n'
    f'format.trim = {{ width = "290000 px", height = "290000 px" }}\n{SPLASH}',
    "exact division": lambda: f'{HEAD}format.dpi = 10000\nformat.spare_pixels = "margin"\n'
    'format.trim = { width = "28 in", height = "28 in" }\n[[pages]]\n'
    "tiers = [2, 3, 5, 7, 11, 13, 17, 19, 23]\n",
    "a number of 6,000 hexadecimal digits": lambda: f"title = 0x{'f' * 6_000}\n"
    f"preset = 0x{'f' * 6_000}\nfoo = 0x{'f' * 6_000}\nformat.dpi = 0x{'f' * 6_000}\n{PAGE}"
    f"panels = 0x{'f' * 6_000}\nwidths = [0x{'f' * 6_000}]\n",
    "a number of a megabyte": lambda: f"{HEAD}number = 0x{filled('f')}\n",
    "a title of a megabyte": lambda: f'title = "{filled("a")}"\n',
    "one long line": lambda: filled("x"),
    "line ends": lambda: filled("\n"),
    "quotes": lambda: filled('"'),
    "curly quotes": lambda: "a = " + filled("“"),
    "dots": lambda: filled("."),
    "a list without an end": lambda: f"a = [{filled(chr(10))}",
}  # fmt: skip


#: Runs a command and says at its end what the process took: the largest of its own memory, which
#: Linux counts apart from that of the process that started it, in kilobytes.
COMMAND = """
import re, resource, sys
from pathlib import Path
from guidekit.cli import main
sys.argv[0] = "guidekit"
try:
    main()
finally:
    used = resource.getrusage(resource.RUSAGE_SELF)
    memory = re.search(r"VmHWM:\\s*(\\d+) kB", Path("/proc/self/status").read_text())[1]
    Path("used").write_text(f"{used.ru_utime + used.ru_stime} {memory}")
"""


#: Of those that exhausted a machine first; the others are more of their kind.
FOUND = [
    "a key of 40 KB",
    "exact division",
    "a thousand panels",
    "a number of 6,000 hexadecimal digits",
]


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="this system has no /proc")
@pytest.mark.parametrize("name", shortened(FILES, FOUND))
def test_a_small_file(tmp_path: Path, name: str) -> None:
    """It is accepted or refused in a few lines, and takes neither long nor much memory."""
    text = FILES[name]()
    assert len(text) <= 1.1 * MB
    (tmp_path / "issue.toml").write_text(text, "utf-8")
    seconds, memory = taken(tmp_path, "check", "issue.toml")
    assert memory < MEMORY
    assert seconds < SECONDS


@long
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="this system has no /proc")
def test_a_thousand_panels_are_drawn(tmp_path: Path) -> None:
    """A page of a thousand panels with every guide that is on takes as little memory to write."""
    (tmp_path / "issue.toml").write_text(PAGE + FORTY, "utf-8")
    _, memory = taken(tmp_path, "build", "issue.toml", "--out", "pages")
    assert memory < MEMORY
    assert [*(tmp_path / "pages").glob("*.psd")]


def taken(folder: Path, *arguments: str) -> tuple[float, float]:
    """What a command takes: seconds of the processor, memory in MB; it tells little, and well."""
    done = subprocess.run(
        [sys.executable, "-c", COMMAND, *arguments],
        cwd=folder,
        env=environment(),
        capture_output=True,
    )
    told = done.stderr.decode()
    assert done.returncode in (0, 2), told
    assert "Traceback" not in told
    assert len(told) < 10_000
    seconds, memory = (folder / "used").read_text().split()
    return float(seconds), int(memory) / 1000
