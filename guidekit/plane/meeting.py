"""Which of many boxes meet, without a look at every pair."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidekit.plane.box import Box


def meeting(boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    """The pairs of boxes that have a point in common, edges and corners included, by their places.

    Each pair once, the lower place first, in no order. A line sweeps over the boxes, downward or
    across, whichever way they begin at more places; only those that it crosses are compared.
    """
    upright = [(box.top, box.bottom, box.left, box.right) for box in boxes]
    level = [(box.left, box.right, box.top, box.bottom) for box in boxes]
    swept = max(upright, level, key=lambda spans: len({begin for begin, *_ in spans}))
    crossed: list[int] = []
    for place in sorted(range(len(boxes)), key=lambda i: swept[i][0]):
        begin, _, low, high = swept[place]
        crossed = [other for other in crossed if swept[other][1] >= begin]
        for other in crossed:
            if swept[other][2] <= high and low <= swept[other][3]:
                yield min(place, other), max(place, other)
        crossed.append(place)
