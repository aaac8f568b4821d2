"""The layers of a PSD as `drawn.composing.compose` lays them, old ones and those of ours."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

import numpy as np

from guidekit.drawn.composing.compose import (
    Floats,
    Item,
    Paint,
    PaintGroup,
    RowStrip,
    UnknownError,
    of_one,
)
from guidekit.drawn.composing.made_layers import coverage_of, made_items, paint_of
from guidekit.drawn.ours.layer_tree import Added, Kept, LayerNode, LayerPart, Repainted
from guidekit.drawn.psd.drawing import (
    MASK_FEATHERED,
    MASK_INVERTED,
    MASK_SWITCHED_OFF,
    PLAIN_MASK,
    PsdDrawing,
)
from guidekit.drawn.psd.layers import ALPHA, MASK, LayerRecord
from guidekit.drawn.psd.planes import Plane, Rows
from guidekit.drawn.spans.source import ByteSpan
from guidekit.layers.model import Stack
from guidekit.plane.box import Box
from guidekit.raster.shapes import cover

#: "Blend mode key". Soft light, dodge and burn are left out: programs differ on them.
BLENDS = {
    b"norm": "normal", b"mul ": "multiply", b"scrn": "screen", b"over": "overlay",
    b"hLit": "hard light", b"dark": "darken", b"lite": "lighten", b"diff": "difference",
}  # fmt: skip
PASS = b"pass"
#: Blocks that leave a layer's pixels as they are shown ("Additional layer information").
HARMLESS = {
    b"luni", b"lyid", b"lclr", b"lspf", b"lsct", b"lsdk", b"lnsr", b"shmd", b"fxrp", b"lyvr",
    b"clbl", b"infx", b"tsly", b"lmgm", b"vmgm", b"cust", b"SoLd", b"PlLd", b"SoLE",
    b"TySh", b"tySh",
}  # fmt: skip
#: Blocks that change nothing while all their bytes but the last are as here.
WITHOUT_EFFECT = {b"iOpa": b"\xff\0\0\0", b"knko": b"\0\0\0\0"}


class SeenLayers:
    """The layers of an open file for one strip after the other.

    `moved` is where the old canvas lies on the new one.
    """

    def __init__(self, drawing: PsdDrawing, stack: Stack, moved: tuple[int, int] = (0, 0)):
        self.drawing, self.stack, self.moved = drawing, stack, moved
        self.grey = drawing.header.colours == 1
        self._planes: dict[ByteSpan, Plane] = {}

    def before(self, nodes: Iterable[LayerNode]) -> tuple[Item, ...]:
        """What is shown of the old file, the lowest first; raises `UnknownError`."""
        return tuple(self._nodes(nodes))

    def after(self, parts: Sequence[LayerPart]) -> tuple[Item, ...]:
        """What is shown of the new file."""
        return tuple(self._parts(parts))

    def alpha(self, record: LayerRecord, strip: RowStrip) -> Floats | None:
        """Where a layer covers a strip."""
        data = record.channel(ALPHA)
        if record.box.is_empty or (data and data.size <= 2):
            return None
        if data is None:
            return self._inside(self._at(record.box), strip)
        found = self._part(data, self._at(record.box), strip)
        return None if found is None or not found.any() else found

    def _at(self, box: Box) -> Box:
        return box.shifted(*self.moved)

    def mask(self, record: LayerRecord, strip: RowStrip) -> Floats | None:
        """What the mask of a group lets through."""
        found = self._mask(record)
        return np.ones(strip.shape, np.float32) if found is None else found(strip)

    def _nodes(self, nodes: Iterable[LayerNode]) -> Iterator[Item]:
        for node in reversed(tuple(nodes)):
            record = self.drawing.info.records[node.key]
            if not record.visible:
                continue
            if node.members is None:
                yield self._paint(record)
            else:
                yield self._folder(record, tuple(self._nodes(node.members)), self._mask(record))

    def _parts(self, parts: Sequence[LayerPart]) -> Iterator[Item]:
        for part in reversed(parts):
            if isinstance(part, Added):
                yield from made_items(part.member, self.stack.canvas, grey=self.grey)
            elif isinstance(part, Repainted):
                if part.visible:
                    record = self.drawing.info.records[part.node.key]
                    blend, canvas = _blend(record), self.stack.canvas
                    found = paint_of(part.layer, part.opacity, blend, canvas, grey=self.grey)
                    yield Paint(**{**vars(found), "clipped": bool(record.clipping)})
            elif isinstance(part, Kept):
                yield from self._kept(part)

    def _kept(self, part: Kept) -> Iterator[Item]:
        record = self.drawing.info.records[part.node.key]
        if not record.visible:
            return
        if part.members is None:
            yield self._paint(record)
            return
        mask = self._mask(record)
        if part.mask is not None:
            bands = cover(part.mask, self.stack.canvas)
            mask = coverage_of(bands)
        yield self._folder(record, tuple(self._parts(part.members)), mask)

    def _paint(self, record: LayerRecord) -> Paint:
        _refuse_unknown(record)
        mask = self._mask(record)

        def coverage(strip: RowStrip) -> Floats | None:
            alpha = self.alpha(record, strip)
            if alpha is None or mask is None:
                return alpha
            part = mask(strip)
            return None if part is None else alpha * part

        def colour(strip: RowStrip) -> Floats:
            planes = []
            for number in range(self.drawing.header.colours):
                data = record.channel(number)
                found = self._part(data, self._at(record.box), strip) if data else None
                planes.append(np.zeros(strip.shape, np.float32) if found is None else found)
            return np.stack(planes)

        blend, opacity = _blend(record), record.opacity / 255
        return Paint(coverage, colour, blend, opacity, bool(record.clipping))

    def _folder(
        self,
        record: LayerRecord,
        members: tuple[Item, ...],
        mask: Callable[[RowStrip], Floats | None] | None,
    ) -> PaintGroup:
        _refuse_unknown(record)
        divider = record.blocks.get(b"lsct", b"")
        blend = divider[8:12] or record.blend
        isolated = blend != PASS
        mode = BLENDS.get(blend, "normal")
        if isolated and blend not in BLENDS:
            raise UnknownError(record.name)
        opacity = record.opacity / 255
        return PaintGroup(members, mask, mode, opacity, isolated, bool(record.clipping))

    def _mask(self, record: LayerRecord) -> Callable[[RowStrip], Floats | None] | None:
        """Where a mask lets something through; None for no mask. Raises `UnknownError`."""
        mask, data = record.mask, record.channel(MASK)
        if mask is None or data is None or mask.flags & MASK_SWITCHED_OFF:
            return None
        odd = MASK_INVERTED | MASK_FEATHERED
        if mask.flags & odd or mask.size > PLAIN_MASK or mask.outside not in (0, 255):
            raise UnknownError(record.name)
        box, outside = self._at(mask.box), np.float32(mask.outside / 255)

        def shown(strip: RowStrip) -> Floats | None:
            if box.is_empty or data.size <= 2:
                return np.full(strip.shape, outside) if outside else None
            found = self._part(data, box, strip)
            if not outside:
                return found
            inside = self._inside(box, strip)
            everywhere = np.ones(strip.shape, np.float32)
            return everywhere if found is None or inside is None else found + (1 - inside)

        return shown

    def _inside(self, box: Box, strip: RowStrip) -> Floats | None:
        """1 inside a rectangle, 0 outside."""
        found = np.zeros(strip.shape, np.float32)
        rows = slice(max(box.top - strip.top, 0), max(box.bottom - strip.top, 0))
        found[rows] = (strip.columns >= box.left) & (strip.columns < box.right)
        return found if found.any() else None

    def _part(self, data: ByteSpan, box: Box, strip: RowStrip) -> Floats | None:
        """A channel on a strip, from 0 to 1; 0 outside of its rectangle, None if all is outside."""
        rows = self._values(data, box, strip)
        return None if rows is None else of_one(rows)

    def _values(self, data: ByteSpan, box: Box, strip: RowStrip) -> Rows | None:
        """The same as it is stored."""
        top, bottom = max(box.top, strip.top), min(box.bottom, strip.bottom)
        left, right = np.searchsorted(strip.columns, (box.left, box.right))
        if top >= bottom or left >= right or data.size <= 2:
            return None
        plane = self._planes.get(data)
        if plane is None:
            plane = self._planes[data] = self.drawing.plane(data, box)
        rows = plane.rows(top - box.top, bottom - box.top)
        columns = strip.columns[left:right] - box.left
        if len(columns) <= columns[-1] - columns[0]:  # some are left out
            rows = rows[:, columns]
        else:
            rows = rows[:, columns[0] : columns[-1] + 1]
        if rows.shape == strip.shape:
            return rows
        found = np.zeros(strip.shape, rows.dtype)
        found[top - strip.top : bottom - strip.top, left:right] = rows
        return found


def _blend(record: LayerRecord) -> str:
    if record.blend not in BLENDS:
        raise UnknownError(record.name)
    return BLENDS[record.blend]


def _refuse_unknown(record: LayerRecord) -> None:
    """Raise `UnknownError` for adjustments, effects and whatever else changes how a layer looks."""
    for key, data in record.blocks.items():
        if key in HARMLESS or data[:4] == WITHOUT_EFFECT.get(key):
            continue
        raise UnknownError(record.name)
    if record.ranges.replace(b"\0\0\xff\xff", b""):
        raise UnknownError(record.name)
