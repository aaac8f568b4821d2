"""The stack that every page gets, from the guides on top down to the paper."""

from __future__ import annotations

from typing import Any

from guidekit.geometry.digest import plan_digest
from guidekit.geometry.measure import measured
from guidekit.geometry.page import PagePlan
from guidekit.layers.drawing import drawing_layers
from guidekit.layers.folio import folio_layer
from guidekit.layers.guides.draw import guide_layers
from guidekit.layers.guides.kind import Guide
from guidekit.layers.guides.label import page_words
from guidekit.layers.guides.rulers import rulers
from guidekit.layers.model import Group, Layer, Stack
from guidekit.layers.palette import from_hex, ink_on
from guidekit.layers.panels import borders_of, outside_panels
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Rule
from guidekit.registry import Registry


def standard_stack(page: PagePlan, guides: Registry[Guide]) -> Stack:
    """Guides, panel borders, drawing layers and paper of one page; `guides` are all there are."""
    furniture, colour = page.book.furniture, from_hex(page.book.furniture.paper)
    drawing = drawing_layers(page)
    title = ", ".join(page_words(page)[:2])
    members: list[Layer | Group] = []
    if shown := guide_layers(page, guides):
        members.append(Group("Guides", shown, locked=True, label="blue"))
    members += [*drawing.above, *([folio_layer(page)] if page.folios else [])]
    members.append(panel_borders(page))
    if furniture.gutter_cover:
        members.append(gutter_cover(page, colour))
    members += [*drawing.below, paper(page, colour)]
    return Stack(
        file_name=page.file_name,
        canvas=page.boxes.canvas,
        dpi=page.book.dpi,
        grey=furniture.grey,
        depth=furniture.depth,
        profile=furniture.profile,
        paper=colour,
        members=tuple(members),
        finished=page.boxes.trim,
        inked=page.boxes.bleed,
        rulers=rulers(page, guides),
        selected=drawing.first,
        title=title,
        about=about(page, title),
        info=page_info(page, plan_digest(page)),
    )


def page_info(page: PagePlan, digest: str) -> dict[str, Any]:
    """What programs may want to read of a page; `digest` is that of its plan."""
    furniture = page.book.furniture
    return {
        "title": furniture.title,
        "preset": furniture.preset,
        "preset_sha256": furniture.preset_digest,
        "page": measured(page),
        "plan": digest,
        "guides": dict(sorted(page.guides)),
    }


def about(page: PagePlan, title: str) -> str:
    """The canvas in a sentence: ``The Salt Road 2, page 4: US comic book, 4125 × 6300 px …``."""
    canvas, preset = page.boxes.canvas, page.book.furniture.preset_title
    return f"{title}: {preset}, {canvas.width} × {canvas.height} px at {page.book.dpi} dpi."


def panel_borders(page: PagePlan) -> Layer:
    """The ruled lines round the panels, inside their boxes; none where one runs to the bleed."""
    ink = ink_on(from_hex(page.book.furniture.paper))
    return Layer("Panel borders", borders_of(page.panels), ink, label="grey")


def gutter_cover(page: PagePlan, colour: Colour) -> Layer:
    """The paper's colour over everything outside the panels."""
    shape = outside_panels((page.boxes.canvas,), page.panels)
    return Layer("Gutter cover", (shape,), colour)


def paper(page: PagePlan, colour: Colour) -> Layer:
    """The paper below all."""
    return Layer("Paper", (Rule(page.boxes.canvas),), colour, locked=True, backdrop=True)
