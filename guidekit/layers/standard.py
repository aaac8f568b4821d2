"""The stack that every page gets, from the guides on top down to the sheet."""

from __future__ import annotations

from guidekit.geometry.measure import measured
from guidekit.geometry.page import PagePlan
from guidekit.layers.guides import guide_layers
from guidekit.layers.model import Group, Layer, Stack
from guidekit.layers.outlines import panel_area, panel_border
from guidekit.layers.palette import BLACK, from_hex
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Area, Rule


def standard_stack(page: PagePlan) -> Stack:
    """Guides, panel borders, drawing layers and sheet of one page."""
    book, paper = page.book, from_hex(page.book.paper)
    members: list[Layer | Group] = [
        Group("Guides", tuple(guide_layers(page)), locked=True, label="blue"),
        panel_borders(page),
    ]
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
        info={"title": book.title, "preset": book.preset, "page": measured(page)},
    )


def panel_borders(page: PagePlan) -> Layer:
    """The ruled lines round the panels, inside their boxes; none where one runs to the bleed."""
    shapes = tuple(shape for panel in page.panels for shape in panel_border(panel))
    return Layer("Panel borders", shapes, BLACK, label="grey")


def gutter_cover(page: PagePlan, paper: Colour) -> Layer:
    """The paper's colour over everything outside the panels."""
    holes = tuple(map(panel_area, page.panels))
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
