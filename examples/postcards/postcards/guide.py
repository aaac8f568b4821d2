"""The guide ``postcards_corners``: where the corners of panels are, seen through any drawing."""

from collections.abc import Iterator

from guidekit.plugins.contract import Box, Guide, Rule, Seen, Shape


def draw(seen: Seen) -> Iterator[Shape]:
    """A square dot on each corner of the box of each panel, three lines of the pen wide."""
    half = seen.pen.weight * 3 // 2
    for panel in seen.page.panels:
        box = panel.box
        for x in (box.left, box.right):
            for y in (box.top, box.bottom):
                yield Rule(Box(x - half, y - half, x + half, y + half))


#: It lies between the safe area (140) and the trim (150), and is off until an issue names it.
corners = Guide(
    place=145,
    name="postcards_corners",
    layer="Panel corners",
    state="off",
    colour=(0, 114, 178),
    opacity=100,
    draw=draw,
)
