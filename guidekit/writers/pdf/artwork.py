"""The layers as they are printed: all in one pale blue, to be drawn over and not to be seen.

One ink needs no transparency: a layer that is half opaque is a paler tint, and of two tints the
stronger one wins. A layer in the colour of the paper hides what lies below it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from guidekit.layers.model import Group, Layer, Stack
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Shape
from guidekit.writers.pdf.clips import ClipPath, Filled, clipped, pieces
from guidekit.writers.pdf.document import Document
from guidekit.writers.pdf.lengths import Placing
from guidekit.writers.pdf.lettering import letters_downward
from guidekit.writers.pdf.operators import (
    CLIP,
    CLIP_EVEN_ODD,
    FILL,
    FILL_EVEN_ODD,
    RESTORE,
    SAVE,
    canvas_space,
    colour,
    path,
)

#: Three public lists of colour names have it under this name; customary, no standard.
NON_PHOTO_BLUE: Colour = (164, 221, 237)
WHITE: Colour = (255, 255, 255)


class PrintedLayer(NamedTuple):
    """A layer to be printed, its pieces, and what part of the ink it takes, 0 to 255."""

    pieces: tuple[Filled, ...]
    ink: int


def prints_of(stack: Stack) -> list[PrintedLayer]:
    """Every visible layer but the backdrop, in the order of printing."""
    runs: list[list[PrintedLayer]] = [[]]
    for layer, masks in [*_visible(stack.members)][::-1]:
        covering = layer.colour == stack.paper
        done = PrintedLayer(tuple(_masked(layer, masks)), 0 if covering else layer.opacity)
        runs += [[done], []] if covering else []
        runs[-1] += [] if covering else [done]
    return [done for run in runs for done in sorted(run, key=lambda done: done.ink)]


def draw_prints(
    document: Document, prints: Iterable[PrintedLayer], stack: Stack, canvas: Placing
) -> None:
    """Print layers on a page, and nothing outside the canvas."""
    document.draw(SAVE, canvas_space(canvas), path([stack.canvas]), CLIP)
    for layer in prints:
        document.draw(colour(tint(layer.ink)))
        for piece in layer.pieces:
            draw_piece(document, piece, stack)
    document.draw(RESTORE)


def tint(ink: int) -> Colour:
    """The blue thinned with white: 255 is all of it, 0 none."""
    red, green, blue = (
        (2 * (white * (255 - ink) + full * ink) + 255) // 510
        for white, full in zip(WHITE, NON_PHOTO_BLUE, strict=True)
    )
    return red, green, blue


def _visible(
    members: tuple[Layer | Group, ...], masks: tuple[tuple[Shape, ...], ...] = ()
) -> Iterator[tuple[Layer, tuple[tuple[Shape, ...], ...]]]:
    """Visible layers, the uppermost first, each with the masks of the groups it is in."""
    for member in members:
        if not member.visible:
            continue
        if isinstance(member, Group):
            own = (*masks, member.mask) if member.mask else masks
            yield from _visible(member.members, own)
        elif not member.backdrop:
            yield member, masks


def _masked(layer: Layer, masks: tuple[tuple[Shape, ...], ...]) -> Iterator[Filled]:
    found = [*pieces(layer.shapes)]
    for mask in masks:
        found = [part for piece in found for part in clipped(piece, mask)]
    yield from found


def draw_piece(document: Document, piece: Filled, stack: Stack) -> None:
    """Fill a piece in the colour that was set last."""
    if piece.clips:
        document.draw(SAVE)
        for clip in piece.clips:
            document.draw(*_clip_operators(clip, stack))
    if piece.text:
        text = piece.text
        document.draw(*letters_downward(text.text, text.x, text.y, text.height, text.font))
    else:
        document.draw(path(piece.rings), FILL_EVEN_ODD if piece.even_odd else FILL)
    if piece.clips:
        document.draw(RESTORE)


def _clip_operators(clip: ClipPath, stack: Stack) -> Iterator[str]:
    """Section 8.5.4: each clip lessens what is left; outside a ring is the canvas around it."""
    if clip.within:
        yield f"{path(clip.rings)}\n{CLIP_EVEN_ODD if clip.even_odd else CLIP}"
        return
    if clip.even_odd:
        yield f"{path([stack.canvas, *clip.rings])}\n{CLIP_EVEN_ODD}"
        return
    for ring in clip.rings:
        yield f"{path([stack.canvas, ring])}\n{CLIP_EVEN_ODD}"
