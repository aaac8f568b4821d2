"""Panels above each other: what lies above is cut out of what lies below, with its clear margin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.forms import Form
from guidekit.geometry.page import Panel
from guidekit.plane.box import Box, around
from guidekit.plane.outline import Outline, box_of
from guidekit.plane.rings import overlap, rings_of, whole_area, without

#: At one level free panels lie above those that keep their place, and insets above both.
PLAIN, FREE, INSET = 0, 1, 2


@dataclass(frozen=True)
class Above:
    """What may be cut out of others: a shape with a clear margin of `gap` pixels.

    Those named `over` are cut where the margin touches them, others where the shape does, or if
    `wide` also where the margin does.
    """

    form: Form
    gap: int
    over: frozenset[int] = frozenset()
    wide: bool = False

    @cached_property
    def shape(self) -> Outline:
        """The shape itself."""
        return self.form.margin(0)

    @cached_property
    def hole(self) -> Outline:
        """The shape and its margin."""
        return self.form.margin(self.gap)

    def cuts(self, panel: Panel) -> bool:
        """Whether a panel that lies below is cut."""
        own = self.hole if self.wide or panel.number in self.over else self.shape
        return any(overlap(own, part) for part in parts_of(panel))


@dataclass(frozen=True)
class Laid:
    """A panel and what makes it lie above others: its level, its rank, its place in the list.

    `above` is what it may cut out of others; `key` leads to it on its page.
    """

    panel: Panel
    key: Key
    above: tuple[Above, ...]
    rank: int = PLAIN
    order: int = 0

    @property
    def height(self) -> tuple[int, int, int]:
        """The higher lies above."""
        return self.panel.level, self.rank, self.order


def parts_of(panel: Panel) -> Iterator[Outline]:
    """A panel's outline, and the figures that break out of it."""
    yield panel.outline
    yield from (figure.outline for figure in panel.figures)


def stacked(laid: Sequence[Laid]) -> tuple[Panel, ...]:
    """All panels in reading order, with all that lies above cut out of them.

    Raises `InputError` for what leaves nothing of a panel below.
    """
    laid = sorted(laid, key=lambda one: one.height)
    special = [one for one in laid if one.rank != PLAIN]
    panels: list[Panel] = []
    problems: list[Problem] = []
    for one in laid:
        others = laid if one.rank != PLAIN else special  # plain panels never meet
        over = [other for other in others if other.height > one.height]
        cutting = [(other, a) for other in over for a in other.above if a.cuts(one.panel)]
        panel = replace(one.panel, cut_out=tuple(above.hole for _, above in cutting))
        if cutting and not _is_seen(panel):
            problems.append(_nothing_left(panel, cutting[-1][0].key))
        panels.append(panel)
    if problems:
        raise InputError(problems)
    return tuple(sorted(panels, key=lambda panel: panel.number))


def _is_seen(panel: Panel) -> bool:
    """Whether at least a pixel is left of a panel."""
    parts = [*parts_of(panel)]
    box = around(map(box_of, parts))
    taken = sum(_size(box_of(hole).clipped(box)) for hole in panel.cut_out)
    if isinstance(panel.outline, Box) and taken < _size(panel.box):
        return True
    return whole_area(without(rings_of(parts), *(rings_of([hole]) for hole in panel.cut_out))) >= 1


def _nothing_left(panel: Panel, key: Key) -> Problem:
    came = f"this leaves nothing of panel {panel.number}, which lies below"
    todo = "Make it smaller, move it, or give it a lower level."
    return Problem(key, came, "a place that leaves some of every panel below", todo)


def _size(box: Box) -> int:
    return box.width * box.height
