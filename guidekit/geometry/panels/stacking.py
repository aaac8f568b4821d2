"""Panels above each other: what lies above is cut out of what lies below, with its clear margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import NamedTuple

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.page import Panel
from guidekit.geometry.panels.forms import Form
from guidekit.plane.box import Box, around
from guidekit.plane.meeting import meeting
from guidekit.plane.outline import Outline, box_of, points_of
from guidekit.plane.rings import MITRE, overlap, rings_of, whole_area, without

#: At one level free panels lie above those that keep their place, and insets above both.
PLAIN, FREE, INSET = 0, 1, 2
MOST_CORNERS = 250_000  # of all that is cut out on a page: so many take two seconds


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

    @property
    def near(self) -> Box:
        """A box round the hole, whatever its corners are."""
        return box_of(self.form.sharp).inset(-ceil(MITRE * self.gap))

    def cuts(self, panel: Panel) -> bool:
        """Whether a panel that lies below is cut."""
        own = self.hole if self.wide or panel.number in self.over else self.shape
        return any(overlap(own, part) for part in panel.parts)


class StackedPanel(NamedTuple):
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


def stacked(laid: Sequence[StackedPanel]) -> tuple[Panel, ...]:
    """All panels in reading order, with all that lies above cut out of them.

    Raises `InputError` for what leaves nothing of a panel below.
    """
    laid = sorted(laid, key=lambda one: one.height)
    above = _above(laid)
    panels: list[Panel] = []
    problems: list[Problem] = []
    corners = 0
    for i, one in enumerate(laid):
        cutting = [(laid[j], hole) for j, hole in above[i] if hole.cuts(one.panel)]
        panel = replace(one.panel, cut_out=tuple(other.hole for _, other in cutting))
        corners += sum(len(points_of(hole)) for hole in panel.cut_out)
        if corners > MOST_CORNERS:
            came = "too many shapes with many corners lie over each other on this page"
            raise InputError(Problem((), came, "fewer shapes, or simpler ones", "Take fewer."))
        if cutting and not _is_seen(panel):
            problems.append(_nothing_left(panel, cutting[-1][0].key))
        panels.append(panel)
    if problems:
        raise InputError(problems)
    return tuple(sorted(panels, key=lambda panel: panel.number))


def _above(laid: Sequence[StackedPanel]) -> list[list[tuple[int, Above]]]:
    """For each panel what lies above and near it, the lowest first; `laid` has the lowest first.

    Panels that keep their place never meet, so that there is nothing to look at.
    """
    found: list[list[tuple[int, Above]]] = [[] for _ in laid]
    if all(one.rank == PLAIN for one in laid):
        return found
    holes = [(j, hole) for j, one in enumerate(laid) for hole in one.above]
    boxes = [around(one.panel.boxes) for one in laid] + [hole.near for _, hole in holes]
    for i, k in meeting(boxes):
        if i < len(laid) <= k:
            j, hole = holes[k - len(laid)]
            if i < j and not laid[i].rank == laid[j].rank == PLAIN:
                found[i].append((j, hole))
    return [sorted(some, key=lambda one: one[0]) for some in found]


def _is_seen(panel: Panel) -> bool:
    """Whether at least a pixel is left of a panel."""
    holes = [box_of(hole).clipped(around(panel.boxes)) for hole in panel.cut_out]
    if isinstance(panel.outline, Box) and sum(map(_size, holes)) < _size(panel.box):
        return True
    seen = without(rings_of(panel.parts), *(rings_of([hole]) for hole in panel.cut_out))
    return whole_area(seen) >= 1


def _nothing_left(panel: Panel, key: Key) -> Problem:
    came = f"this leaves nothing of panel {panel.number}, which lies below"
    todo = "Make it smaller, move it, or give it a lower level."
    return Problem(key, came, "a place that leaves some of every panel below", todo)


def _size(box: Box) -> int:
    return box.width * box.height
