"""Nested panels lie where weasyprint, an independent layout engine, puts grids within grids.

Source: CSS Grid Layout 2, tracks in `fr`, pixels and percentages, `gap`, `grid-template-areas`
(7.2, 7.3, 10.1, 12.7.1). A gutter between two parts is a track of its own that stays empty.
"""

from dataclasses import dataclass
from typing import Any

from hypothesis import given
from support.laid_out_pages import boxes, page
from support.page_walk import px, reading
from support.random_pages import ROOM, layouts
from support.reference import reference

DPI = 150
FORMAT = {
    "dpi": DPI,
    "trim": {"width": f"{ROOM + 80} px", "height": f"{ROOM + 120} px"},
    "gutter": {"across": "4 px", "down": "9 px"},
    "border": "0 px",
}
STYLE = (
    "@page { size: 25000px 25000px; margin: 0 } body { margin: 0 } a { display: block }"
    "div { position: absolute; display: grid }"
)
Edges = list[float]


@dataclass(frozen=True)
class Part:
    """A part of a page, the list in which it stands, its gutters across and down, its edges."""

    part: dict[str, Any]
    key: str
    gaps: tuple[int, int]
    edges: Edges

    @property
    def kind(self) -> str:
        """What fills it."""
        return next(kind for kind in ("map", "tiers", "columns", "panels") if kind in self.part)

    @property
    def own_gaps(self) -> tuple[int, int]:
        """The gutters inside, across and down, in pixels."""
        given = self.part.get("gutter")
        if not given:
            return self.gaps
        pair = [given["across"], given["down"]] if isinstance(given, dict) else [given, given]
        return px(pair[0], DPI), px(pair[1], DPI)

    def grid(self) -> tuple[str, list[str]]:
        """The style of a grid for this part, and of each of its items in reading order."""
        part, (across, down) = self.part, self.own_gaps
        left, top, right, bottom = self.edges
        place = f"left:{left}px;top:{top}px;width:{right - left}px;height:{bottom - top}px"
        if self.kind == "map":
            rows = part["map"].splitlines()
            places = [row.split() for row in rows]
            widths = part.get("widths", [1] * len(places[0]))
            heights = part.get("heights", [1] * len(places))
            style = (
                f"{place};gap:{down}px {across}px;grid-template:{tracks(heights)}/{tracks(widths)};"
                f"grid-template-areas:{' '.join(map(repr, rows))}"
            )
            return style, [f"grid-area:{letter}" for letter in reading(places, 1)]
        number = part["panels"] if self.kind == "panels" else len(part[self.kind])
        beside = self.kind == "columns" or (self.kind == "panels" and self.key == "tiers")
        line, other, key = ("column", "row", "widths") if beside else ("row", "column", "heights")
        gaps = [px(x, DPI) for x in part.get("gutters", [])]
        gaps = gaps or [across if beside else down] * (number - 1)
        style = f"{place};grid-template-{line}s:{tracks(part.get(key, [1] * number), gaps)}"
        return style, [f"grid-{line}:{2 * i + 1};grid-{other}:1" for i in range(number)]


def tracks(shares: list[Any], gaps: list[int] | None = None) -> str:
    """A list of tracks for shares, and for the gaps between them."""
    words = [x.replace(" ", "") if isinstance(x, str) else f"{x}fr" for x in shares]
    between = [f" {gap}px " for gap in gaps or []] or [" "] * (len(words) - 1)
    return words[0] + "".join(gap + word for gap, word in zip(between, words[1:], strict=True))


def laid_out(level: list[Part]) -> list[list[Edges]]:
    """The edges of the items of every part; a CSS pixel stands for one of the page."""
    text = f"<style>{STYLE}</style>"
    for i, part in enumerate(level):
        style, items = part.grid()
        cells = "".join(f'<a href="#{i}" style="{item}"></a>' for item in items)
        text += f'<div style="{style}">{cells}</div>'
    found: list[list[Edges]] = [[] for _ in level]
    html = reference("weasyprint").HTML
    for _, name, edges, _ in html(string=text).render().pages[0].links:
        found[int(name)].append(list(edges))
    return found


def panels(layout: dict[str, Any], frame: Edges) -> tuple[list[Edges], int]:
    """The edges of all panels in reading order to the right, and how deep grids were nested."""
    level = [Part(layout, "", (4, 9), frame)]
    order: list[Any] = [level[0]]  # parts in reading order, replaced by what is in them
    depth = 0
    while level:
        depth += 1
        inside = dict(zip(map(id, level), laid_out(level), strict=True))
        after: list[Any] = []
        for entry in order:
            if not isinstance(entry, Part):
                after.append(entry)
            elif entry.kind in ("tiers", "columns"):
                pairs = zip(entry.part[entry.kind], inside[id(entry)], strict=True)
                after += [Part(inner, entry.kind, entry.own_gaps, edges) for inner, edges in pairs]
            else:
                after += inside[id(entry)]
        order, level = after, [entry for entry in after if isinstance(entry, Part)]
    return order, depth


@given(layouts)
def test_nested_grids(layout: dict[str, Any]) -> None:
    """Every edge of a panel is within a pixel of the grid's, half a pixel more for each level.

    Guidekit rounds at every level, the engine never.
    """
    plan = page(layout, format=FORMAT)
    theirs, depth = panels(layout, [float(x) for x in plan.boxes.safe_area.as_list()])
    mine = boxes(plan)
    assert len(mine) == len(theirs)
    for box, edges in zip(mine, theirs, strict=True):
        assert max(abs(a - b) for a, b in zip(box, edges, strict=True)) <= (depth + 1) / 2
