"""The stack that every page gets, from the guides on top down to the sheet."""

from __future__ import annotations

from dataclasses import replace

from guidekit.geometry.measure import measured
from guidekit.geometry.page import PagePlan, Panel
from guidekit.layers.guides import GUIDES, GuideInput
from guidekit.layers.model import Group, Layer, Stack
from guidekit.layers.palette import BLACK, Pen, from_hex
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Area, Rule, outline


def standard_stack(page: PagePlan) -> Stack:
    """Guides, panel borders, drawing layers and sheet of one page."""
    book, paper = page.book, from_hex(page.book.paper)
    trim = page.sheet.halves[0][0]
    given = GuideInput(page, Pen(min(trim.width, trim.height)))
    members: list[Layer | Group] = [guides_group(given), panel_borders(page)]
    if book.gutter_cover:
        members.append(gutter_cover(page, paper))
    members += [Layer(name) for name in book.drawing]
    members.append(sheet(page, paper))
    return Stack(
        stem=page.stem,
        canvas=page.sheet.canvas,
        dpi=book.dpi,
        grey=book.grey,
        paper=paper,
        members=tuple(members),
        rulers=ruler_guides(page),
        selected=book.drawing[0],
        info={
            "title": book.title,
            "preset": book.preset,
            "page": measured(page),
        },
    )


def guides_group(given: GuideInput) -> Group:
    """Every guide that draws something on this page, locked and marked."""
    layers = (make(given) for make in GUIDES)
    return Group(
        "Guides",
        tuple(replace(layer, locked=True, label="blue") for layer in layers if layer.shapes),
        locked=True,
        label="blue",
    )


def panel_borders(page: PagePlan) -> Layer:
    """The ruled lines round the panels, inside their boxes; none where one runs to the bleed."""
    return Layer(
        "Panel borders",
        tuple(rule for panel in page.panels for rule in border(panel, page.book.border)),
        BLACK,
        label="grey",
    )


def border(panel: Panel, weight: int) -> tuple[Rule, ...]:
    """The border of one panel."""
    if not weight:
        return ()
    box, edges = panel.box, ("top", "bottom", "left", "right")
    far = replace(
        box,
        **{
            edge: getattr(box, edge) + (-1 if edge in ("top", "left") else 1) * weight
            for edge in panel.bleed
        },
    )
    return tuple(
        Rule(rule.box.clipped(box))
        for rule, edge in zip(outline(far, weight), edges, strict=False)
        if edge not in panel.bleed
    )


def gutter_cover(page: PagePlan, paper: Colour) -> Layer:
    """The paper's colour over everything outside the panels."""
    holes = tuple(Rule(panel.box) for panel in page.panels)
    return Layer("Gutter cover", (Area((Rule(page.sheet.canvas),), holes),), paper)


def sheet(page: PagePlan, paper: Colour) -> Layer:
    """The paper below all."""
    return Layer("Sheet", (Rule(page.sheet.canvas),), paper, locked=True, backdrop=True)


def ruler_guides(page: PagePlan) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Positions for trim, safe area and panel edges: those across, then those down."""
    boxes = [box for half in page.sheet.halves for box in half]
    boxes += [panel.box for panel in page.panels]
    return (
        tuple(sorted({x for box in boxes for x in (box.left, box.right)})),
        tuple(sorted({y for box in boxes for y in (box.top, box.bottom)})),
    )
