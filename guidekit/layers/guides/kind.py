"""What a kind of guide is, and what it may know."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from guidekit.layers.palette import from_hex, ink_on
from guidekit.preset.guides import STATES

if TYPE_CHECKING:  # what draws is loaded when it draws
    from guidekit.geometry.page import PagePlan
    from guidekit.layers.model import Label, Layer
    from guidekit.layers.palette import Pen
    from guidekit.preset.guides import State
    from guidekit.raster.blend import Colour
    from guidekit.raster.font import FontFile
    from guidekit.raster.shapes import Shape


@dataclass(frozen=True)
class GuideInput:
    """What a guide may know: the page, a pen that suits its size, and the guides seen below it."""

    page: PagePlan
    pen: Pen
    below: tuple[Layer, ...] = ()

    @property
    def ink(self) -> Colour:
        """The colour of words: black, or white on dark paper."""
        return ink_on(from_hex(self.page.book.furniture.paper))

    @property
    def right_to_left(self) -> bool:
        """True if reading begins on the right."""
        return self.page.book.furniture.right_to_left

    @property
    def font(self) -> FontFile | None:
        """What words are set in; None for the fonts that come with guidekit."""
        return self.page.book.furniture.font


@dataclass(frozen=True)
class Guide:
    """One kind of guide.

    Guides lie in the order of their `place`, the lowest number uppermost. `name` is that by which
    presets, issues and pages switch it, `state` what it is where none of them does, `states` what
    it can be. Its `layer` has a name, a colour (None for that of words) and an opacity in percent,
    and a `label` in lists of layers; `draw` makes its shapes. Where there are none, as for the
    bleed of a page without bleed, there is no layer. A guide of several colours draws layers, and
    they are a group.
    """

    place: int
    name: str
    layer: str
    state: State
    colour: Colour | None
    opacity: int
    draw: Callable[[GuideInput], Iterable[Shape | Layer]]
    label: Label = "blue"
    states: tuple[State, ...] = STATES
