"""Panels in their frame: a tree of splits turned into boxes of whole pixels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from guidekit.errors import InputError, Problem
from guidekit.geometry.divide import divide
from guidekit.geometry.slants import gutter_lines
from guidekit.issue.share import Share
from guidekit.issue.tree import Axis, Grid, Leaf, Node, Split
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.plane.polygon import Side, clip_all, corners
from guidekit.preset.model import Gutter
from guidekit.units import Length, half_up


@dataclass(frozen=True)
class Spacing:
    """What holds for all panels of a page: gutters, resolution, the rule for spare pixels.

    `flip` says that the fold is on the right: everything across is then computed from the right,
    so that the same panels on the facing page are the exact mirror image.
    """

    gutter: Gutter
    dpi: int
    exact: bool = False
    flip: bool = False

    def gap(self, axis: Axis, length: Length | None = None) -> int:
        """A gutter in whole pixels: this length, or the gutter that holds all round."""
        own = self.gutter.across if axis == "across" else self.gutter.down
        return half_up((length or own).px(self.dpi))

    def within(self, node: Split | Grid) -> Spacing:
        """What holds inside `node`."""
        return replace(self, gutter=node.gutter) if node.gutter else self


@dataclass(frozen=True)
class Placed:
    """A panel where it lies. `box` is its place as if all gutters were straight.

    The panel itself is what of `limits` lies on the good side of all `cuts`, which are the edges
    of slanted gutters; without any, `limits` equals `box`.
    """

    number: int
    box: Box
    limits: Box
    cuts: tuple[Side, ...] = ()


@dataclass(frozen=True)
class Division:
    """A box that is divided into equal parts, gutters between them: where rulers are laid."""

    box: Box
    axis: Axis
    parts: int
    gap: int


@dataclass(frozen=True)
class Arrangement:
    """All panels by number, and the equal divisions that made them."""

    panels: tuple[Placed, ...]
    divisions: tuple[Division, ...]


@remembered
def arrange(node: Node, frame: Box, spacing: Spacing) -> Arrangement:
    """Lay the panels of `node` out in `frame`.

    With `spacing.exact` the frame gives up the few pixels that no equal division can use, to the
    margin on both sides. Raises `InputError` where something cannot fit.
    """
    if frame.is_empty:
        raise InputError(
            Problem(
                "safe_area",
                "there is no room for a panel",
                "a safe area of at least 1 px",
                "Take a higher dpi, or smaller margins.",
            )
        )
    if spacing.exact:
        frame = _exact_frame(node, frame, spacing)
    found = [*_within(node, frame, frame, (), spacing)]
    panels = sorted((x for x in found if isinstance(x, Placed)), key=lambda panel: panel.number)
    divisions = dict.fromkeys(x for x in found if isinstance(x, Division))
    return Arrangement(tuple(panels), tuple(divisions))


def _within(
    node: Node, box: Box, limits: Box, cuts: tuple[Side, ...], spacing: Spacing
) -> Iterator[Placed | Division]:
    if isinstance(node, Leaf):
        yield Placed(node.number, box, limits, cuts)
        return
    spacing = spacing.within(node)
    if isinstance(node, Grid):
        yield from _grid(node, box, limits, cuts, spacing)
        return
    gaps = _gaps(node, spacing)
    parts = _along(node.axis, node.shares, gaps, box, spacing, node.place)
    if len(set(node.shares)) == 1 and len(set(gaps)) <= 1 and len(parts) > 1:
        yield Division(box, node.axis, len(parts), gaps[0])
    region = clip_all(corners(limits), cuts)
    lines = gutter_lines(node, parts, gaps, box, region, spacing.dpi)
    near, far = ("left", "right") if node.axis == "across" else ("top", "bottom")
    for i, (part, (low, high)) in enumerate(zip(node.parts, parts, strict=True)):
        inner, own = limits, cuts
        for edge, line, at in (
            (near, lines[i - 1] if i else None, low),
            (far, lines[i] if i < len(lines) else None, high),
        ):
            outermost = i == 0 if edge == near else i == len(parts) - 1
            if line:
                own = (*own, line[edge == near])
            elif not outermost:
                inner = replace(inner, **{edge: at})
        yield from _within(part, replace(box, **{near: low, far: high}), inner, own, spacing)


def _grid(
    node: Grid, box: Box, limits: Box, cuts: tuple[Side, ...], spacing: Spacing
) -> Iterator[Placed | Division]:
    across, down = spacing.gap("across"), spacing.gap("down")
    x_gaps, y_gaps = [across] * (len(node.columns) - 1), [down] * (len(node.rows) - 1)
    xs = _along("across", node.columns, x_gaps, box, spacing, f"{node.place}widths")
    ys = _along("down", node.rows, y_gaps, box, spacing, f"{node.place}heights")
    if len(set(node.columns)) == 1 < len(xs):
        yield Division(box, "across", len(xs), across)
    if len(set(node.rows)) == 1 < len(ys):
        yield Division(box, "down", len(ys), down)
    for leaf, (left, top, right, bottom) in node.areas:
        own = Box(xs[left][0], ys[top][0], xs[right - 1][1], ys[bottom - 1][1])
        inner = Box(
            own.left if left else limits.left,
            own.top if top else limits.top,
            own.right if right < len(xs) else limits.right,
            own.bottom if bottom < len(ys) else limits.bottom,
        )
        yield Placed(leaf.number, own, inner, cuts)


def _gaps(node: Split, spacing: Spacing) -> list[int]:
    given = node.gaps or (None,) * (len(node.parts) - 1)
    return [spacing.gap(node.axis, length) for length in given]


def _along(
    axis: Axis, shares: Sequence[Share], gaps: list[int], box: Box, spacing: Spacing, place: str
) -> list[tuple[int, int]]:
    """Where the parts of `box` along one axis begin and end."""
    dpi, exact = spacing.dpi, spacing.exact
    if axis == "down":
        parts = divide(box.height, shares, gaps, dpi, exact, place)
        return [(box.top + a, box.top + b) for a, b in parts]
    if not spacing.flip:
        parts = divide(box.width, shares, gaps, dpi, exact, place)
        return [(box.left + a, box.left + b) for a, b in parts]
    parts = divide(box.width, shares[::-1], gaps[::-1], dpi, exact, place, backward=True)
    return [(box.right - b, box.right - a) for a, b in reversed(parts)]


def _exact_frame(node: Node, frame: Box, spacing: Spacing) -> Box:
    """The largest frame up to a twentieth smaller that all splits divide without a remainder."""
    width, height = frame.width, frame.height
    _spares(node, frame, spacing)  # what cannot fit into the whole frame is told as it is
    while width >= frame.width * 19 // 20 and height >= frame.height * 19 // 20:
        try:
            spare_x, spare_y = _spares(node, Box(0, 0, width, height), spacing)
        except InputError:  # fixed lengths leave the frame no room to give way
            break
        if not spare_x and not spare_y:
            x, y = (frame.width - width) // 2, (frame.height - height) // 2
            left = frame.right - x - width if spacing.flip else frame.left + x
            return Box(left, frame.top + y, left + width, frame.top + y + height)
        width -= bool(spare_x)
        height -= bool(spare_y)
    raise InputError(
        Problem(
            "spare_pixels",
            "these panels cannot all be made exactly equal within a twentieth of the frame",
            '"shared", where equal panels differ by at most one pixel',
            'Take spare_pixels = "shared", or make the shares simpler.',
        )
    )


def _spares(node: Node, box: Box, spacing: Spacing) -> tuple[int, int]:
    """Pixels across and down that the splits of `node` would leave over in `box`."""
    if isinstance(node, Leaf):
        return 0, 0
    spacing = spacing.within(node)
    if isinstance(node, Grid):
        placed = [x.box for x in _grid(node, box, box, (), spacing) if isinstance(x, Placed)]
        return (
            box.width - max(b.right for b in placed) + min(b.left for b in placed),
            box.height - max(b.bottom for b in placed) + min(b.top for b in placed),
        )
    parts = _along(node.axis, node.shares, _gaps(node, spacing), box, spacing, node.place)
    filled = parts[-1][1] - parts[0][0]
    if node.axis == "across":
        own = (box.width - filled, 0)
        inner = [replace(box, left=a, right=b) for a, b in parts]
    else:
        own = (0, box.height - filled)
        inner = [replace(box, top=a, bottom=b) for a, b in parts]
    spares = [own, *(_spares(p, b, spacing) for p, b in zip(node.parts, inner, strict=True))]
    return max(x for x, _ in spares), max(y for _, y in spares)
