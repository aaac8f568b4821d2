"""Paper, ink, pencil, red pencil: red, green and blue from 0 to 255."""

from __future__ import annotations

from guidekit.raster.blend import Colour

INK: Colour = (38, 35, 31)
PENCIL: Colour = (110, 105, 96)
RED: Colour = (166, 58, 36)
PAPER: Colour = (255, 254, 250)
WASH: Colour = (244, 240, 231)
