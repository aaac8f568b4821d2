"""Issues on the planner's desk, and the edits that can be asked for of their pages."""

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from guidekit.planner.changes import Change, read_change
from guidekit.planner.desk import Desk
from guidekit.planner.draft import Draft, read_book
from guidekit.planner.knobs import knobs_of
from guidekit.planner.moving import NotAgreedError, key_of
from guidekit.planner.planned_page import PlannedPage
from guidekit.shipped import shipped

HEAD = """\
# An issue that is planned.
title  = "Kettle Moth"     # its name
preset = "us-comic"
"""
#: The same of small pages, which are soon made.
SMALL_HEAD = f"{HEAD}format = {{ dpi = 72 }}\n"

#: Pages of every kind, with comments in every place.
PAGES = (
    'panels = "splash"      # all of it\npanel.1.bleed = "all"\n',
    'tiers = [2, 3, 1]   # three tiers\n# about the note\nnote = "A note"\n',
    "count = 3\ntiers = [\n  3,   # three\n  { widths = [1, 2], height = 2 },\n  1\n]\n",
    'panels = "six-grid"\ngutter = "0.125 in"   # tighter\n',
    'map = """\nA A B\nA A C\nD E E\n"""\npanel.B.border = false # no line\n',
    'tiers = [2, 1]\nslant = "8 mm"\n[[pages.insets]]\n# laid over\nover = 1\nwidth = "30 %"\n'
    'height = "30 %"\ncorner = "top-left"\n',
    'tiers = [{ panels = 2, bend = "3 mm" }, 1]   # an arc\n',
    'panels = "two-tiers-arched"\n',
    'tiers = [2, 1]\nbend = [["30 %", "4 mm"], ["70 %", "-4 mm"]]   # a wave\n',
    'tiers = [2, 1]\ninsets = [{ over = 1, points = [["9 %", "9 %"], ["80 %", "9 mm"], '
    '["40 %", "70 %"]] }]\n',
    'map = """\nA A B\nA B B\n"""\n',
    'tiers = [{ triangles = "both" }, 2]\npanel.6.border = false\n',
    'columns = [{ panels = 1, width = "2 in" }, 3]\n[pages.panel.2]\nradius = "2 mm"  # round\n',
)


@st.composite
def issues(draw: st.DrawFn) -> str:
    """The text of an issue with some of these pages, comments between them."""
    pages = draw(st.lists(st.sampled_from(PAGES), min_size=1, max_size=4))
    between = st.sampled_from(["\n", "\n# right above\n", "\n# --- another scene ---\n\n"])
    return HEAD + "".join(f"{draw(between)}[[pages]]  # here\n{page}" for page in pages)


def book_of(text: str) -> Draft:
    """An issue as the planner reads it."""
    return read_book(Path("kettle-moth.toml"), text, shipped())


@st.composite
def changes_of_page(draw: st.DrawFn, sheet: PlannedPage, page: int) -> Change:
    """A change that may be asked for on a page, most of which can be made."""
    numbers = st.sampled_from(sorted(sheet.printed.values()))
    width, height = sheet.canvas.boxes.canvas.size
    do = draw(
        st.sampled_from(
            ["divide", "divide", "join", "drag", "lean", "pull", "inset", "bleed", "put"]
        )
    )
    data: dict[str, Any] = {"do": do, "page": page}
    if do == "divide":
        axis = draw(st.sampled_from(["across", "down"]))
        data |= {"panel": draw(numbers), "axis": axis, "parts": draw(st.integers(2, 3))}
    elif do == "join":
        data["panels"] = [draw(numbers), draw(numbers)]
    elif do in ("drag", "lean"):
        data["edge"] = draw(st.integers(0, max(0, len(sheet.handles) - 1)))
        data["to"] = draw(st.integers(0, max(width, height)))
        data |= {"near": draw(st.sampled_from([0, 40]))} if do == "drag" else {"first": True}
    elif do == "pull":
        data["knob"] = draw(st.integers(0, max(0, len(knobs_of(sheet)) - 1)))
        data["to"] = draw(st.integers(0, width)), draw(st.integers(0, height))
    elif do == "inset":
        x, y = draw(st.integers(0, width - 400)), draw(st.integers(0, height - 400))
        data["box"] = (x, y, x + 400, y + 400)
    elif do == "bleed":
        edge = draw(st.sampled_from(["left", "top", "right", "bottom"]))
        data |= {"panel": draw(numbers), "edge": edge, "on": draw(st.booleans())}
    else:
        key, value = draw(
            st.sampled_from([("note", "Another"), ("note", None), ("gutter", "4 mm"), ("count", 2)])
        )
        data |= {"key": [key], "value": value}
    return read_change(data)


def pages_in(text: str) -> list[Any]:
    """The entries of ``[[pages]]``."""
    pages: list[Any] = tomllib.loads(text)["pages"]
    return pages


def change_agreed(desk: Desk, data: dict[str, Any]) -> None:
    """Make a change, and agree to the plan of files if one is shown."""
    _agreed(lambda key: desk.change(read_change(data), desk.book.version, key))


def step_agreed(desk: Desk, by: int) -> None:
    """Undo (-1) or redo (1), and agree to the plan of files if one is shown."""
    _agreed(lambda key: desk.step(by, desk.book.version, key))


def _agreed(act: Callable[[str], object]) -> None:
    try:
        act("")
    except NotAgreedError as asked:
        act(key_of(asked.plan))
