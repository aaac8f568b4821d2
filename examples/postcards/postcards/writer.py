"""The format ``postcards-list``: the names of all groups and layers as a text file."""

from collections.abc import Iterator, Sequence

from guidekit.plugins.contract import Group, Layer, Limits, Output, Stack


class LayerListWriter:
    """One line for each group and layer, the uppermost first; what is in a group is set in."""

    name = "postcards-list"

    def limits(self, dpi: int) -> Limits:
        """Text holds a canvas of any size."""
        return Limits(edge=1_000_000)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file."""
        size = f"{stack.canvas.width} × {stack.canvas.height} px at {stack.dpi} dpi"
        text = "\n".join([size, *lines(stack.members), ""])
        yield Output(f"{stack.file_name}.txt", [text.encode()])


def lines(members: Sequence[Layer | Group], indent: str = "") -> Iterator[str]:
    """The lines of these members, hidden ones in brackets."""
    for member in members:
        yield indent + (member.name if member.visible else f"({member.name})")
        if isinstance(member, Group):
            yield from lines(member.members, f"{indent}  ")
