"""A page as a small SVG, to stand in an HTML file that styles its classes.

Classes: ``trim`` the finished page, ``panel``, ``bare`` for one without a border, ``edge`` and
``safe`` for guides, ``turn`` the corner of a page that is turned.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Iterator

from guidekit.layers.guides.cover import barcode, spine
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.palette import pen_for
from guidekit.overview.numbers import large_numbers
from guidekit.overview.openings import View
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, points_of
from guidekit.raster.shapes import Rule, Stroke
from guidekit.raster.text import Text
from guidekit.writers.paths import number
from guidekit.writers.svg.xml import element, words

CAPITALS = 0.7  # of a font's size, about


def page_svg(view: View, unit: float) -> str:
    """The picture of a page; `unit` pixels of its canvas are one em of the text round it."""
    plan, seen = view.plan, view.seen
    parts = [_path("trim", [plan.boxes.trim])]
    if view.thumbnail:
        parts.append(_image(view.thumbnail, seen))
    parts += [_path("panel" if p.border else "panel bare", [p.sharp]) for p in plan.panels]
    trim = plan.boxes.trim
    parts.append(_path("edge", [Box(x, trim.top, x, trim.bottom) for x in plan.boxes.all_folds]))
    parts.append(_path("safe", plan.safe_areas))
    parts.append(_path("edge", _cover_guides(view)))
    parts += [_number(text) for text in large_numbers(plan)]
    if view.corner:
        parts.append(_path("turn", [view.corner]))
    return element(
        "svg",
        "".join(parts),
        viewBox=f"{seen.left} {seen.top} {seen.width} {seen.height}",
        width=f"{number(seen.width / unit, 3)}em",
        height=f"{number(seen.height / unit, 3)}em",
        aria_hidden="true",
        focusable="false",
    )


def _path(kind: str, outlines: Iterable[Outline]) -> str:
    drawn = "".join(map(_ring, outlines))
    return f'<path class="{kind}" d="{drawn}"/>' if drawn else ""


def _ring(outline: Outline) -> str:
    """In whole pixels of the canvas, of which a small picture shows one in twenty or so."""
    if isinstance(outline, Box):
        return f"M{outline.left} {outline.top}H{outline.right}V{outline.bottom}H{outline.left}Z"
    return f"M{'L'.join(f'{round(x)} {round(y)}' for x, y in points_of(outline))}Z"


def _cover_guides(view: View) -> Iterator[Outline]:
    """The places of spine lettering and barcode as thin outlines."""
    given = GuideInput(view.plan, pen_for(view.plan))
    for shape in (*spine(given), *barcode(given)):
        if isinstance(shape, Rule):
            yield shape.box
        elif isinstance(shape, Stroke):
            yield (shape.start, shape.end)


def _number(text: Text) -> str:
    size = number(text.height / CAPITALS, 0)
    return element("text", words(text.text), x=text.x, y=text.y + text.height, font_size=size)


def _image(data: bytes, box: Box) -> str:
    return element(
        "image",
        x=box.left,
        y=box.top,
        width=box.width,
        height=box.height,
        preserveAspectRatio="none",
        href=f"data:image/jpeg;base64,{b64encode(data).decode()}",
    )
