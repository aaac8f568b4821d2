"""Pages for the vector writers, with every guide on them, and pictures made by other programs."""

import io
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from PIL import Image

from guidekit import load_issue
from guidekit.geometry.plan import plan_issue
from guidekit.layers.model import Layer, Stack, all_layers
from guidekit.raster.shapes import Area, Clip, Polygon, Shape, Solid, Stroke
from guidekit.raster.text import Text
from guidekit.writers import Writer
from support.catalogue import stack_of
from support.programs import output

EVERY_GUIDE = """
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
"""
PAGES = {
    "plain": "tiers = [2, 3, 1]",
    "slanted": """
tiers = [{ panels = 2, slant = "8 deg" }, { columns = [{ tiers = [1, 2] }, 1], slant = "-8 mm" }, 3]
slants = ["5 mm", "0 mm"]
radius = "2 mm"
panel.1.bleed = ["top", "inside"]
panel.5.border = false
""",
    "free": """
tiers = [2, 2]
radius = "1 mm"
insets = [
  { within = "bleed", at = ["60 %", "30 %"], width = "50 %", height = "20 %", ellipse = true },
  { over = 3, points = [["20 %", "30 %"], ["80 %", "20 %"], ["50 %", "50 %"], ["60 %", "90 %"]] },
]
panel.1 = { tilt = "7 deg", stepped_corners = "5 mm" }
panel.2.perspective = { horizon = "40 %", points = ["-20 %", "120 %"], rays = "5 deg" }
[[pages.panel.5.figures]]
name = "Cat"
ellipse = true
at = ["-20 %", "20 %"]
width = "60 %"
height = "30 %"
gutter = "2 mm"
""",
    "insets": """
spread = true
halves = [{ tiers = [1, { columns = [1, 3], widths = [2, 1] }] }, { panels = "six-grid" }]
insets = [{ over = [1, 2], width = "30 %", height = "40 %", corner = "bottom-right" },
          { over = 7, at = ["10 %", "10 %"], width = "20 mm", height = "20 mm", radius = "5 mm" }]
panel.4.perspective = { horizon = "40 %", points = ["-20 %", "120 %"], rays = "5 deg" }
""",
}


@cache
def page_stack(
    page: str, dpi: int | None = None, preset: str = "us-comic", extra: str = EVERY_GUIDE
) -> Stack:
    """The stack of the last canvas of an issue; a spread comes after a page 1."""
    before = '[[pages]]\npanels = "splash"\n' if "spread" in page else ""
    text = f'title = "Tests"\nnumber = 2\npreset = "{preset}"\n{extra}{before}[[pages]]\n{page}\n'
    with TemporaryDirectory() as folder:
        path = Path(folder, "issue.toml")
        path.write_text(text, "utf-8")
        return stack_of(plan_issue(load_issue(path, dpi=dpi))[-1])


def alone(stack: Stack, layer: Layer) -> Stack:
    """The stack with this layer only, opaque and black."""
    black = replace(layer, colour=(0, 0, 0), opacity=255, visible=True, blend="normal")
    return replace(stack, members=(replace(black, backdrop=False),))


def drawn_layers(stack: Stack) -> list[Layer]:
    """The layers that have shapes but no text, whose font every program chooses by itself."""
    layers = all_layers(stack.members)
    return [layer for layer in layers if layer.shapes and not any(map(has_text, layer.shapes))]


def has_text(shape: Shape) -> bool:
    """True if there is text in a shape."""
    inner = shape.shapes if isinstance(shape, (Area, Clip)) else ()
    return isinstance(shape, Text) or any(map(has_text, inner))


def is_slanted(shape: Shape) -> bool:
    """True if a shape has an edge that is neither level nor upright."""
    inner: tuple[Shape, ...] = ()
    if isinstance(shape, Area):
        inner = (*shape.shapes, *shape.holes)
    elif isinstance(shape, Clip):
        inner = (*shape.shapes, *shape.within)
    return isinstance(shape, (Polygon, Solid, Stroke)) or any(map(is_slanted, inner))


def written(writer: Writer, stack: Stack) -> bytes:
    """The bytes of the one file that a writer makes."""
    (made,) = writer.write(stack)
    return b"".join(made.pieces)


def by_rsvg(svg: bytes, width: int, height: int, folder: Path) -> np.ndarray:
    """Red, green, blue, alpha of every pixel, as librsvg draws the file at this size."""
    path = folder / "drawn.svg"
    path.write_bytes(svg)
    png = output("rsvg-convert", "-w", str(width), "-h", str(height), path)
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"), int)


def by_poppler(pdf: bytes, dpi: int, folder: Path, number: int = 1) -> np.ndarray:
    """Red, green, blue of every pixel of a page, as poppler draws it at this resolution."""
    path = folder / "drawn.pdf"
    path.write_bytes(pdf)
    one = ("-f", str(number), "-l", str(number))
    ppm = output("pdftoppm", "-r", str(dpi), *one, path)
    return np.asarray(Image.open(io.BytesIO(ppm)).convert("RGB"))
