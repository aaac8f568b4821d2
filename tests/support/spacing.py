"""Gutters given in pixels, for tests of what comes after rounding."""

from guidekit.geometry.division.spacing import Spacing
from guidekit.preset.sizes import Gutter


def spacing(
    across: int, down: int, dpi: int, *, exact: bool = False, flip: bool = False
) -> Spacing:
    """The spacing of a page whose gutters are so many pixels wide."""
    return Spacing(Gutter(across=f"{across} px", down=f"{down} px"), dpi, exact, flip)
