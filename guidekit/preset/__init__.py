"""Stage 1, what a page is made of: trim, bleed, safe area, gutters, resolution, drawing layers.

::

    source      where presets are found, and what they are based on
    model       the whole of one, with its sizes, scroll, drawing layers and guides
    sizes, scroll, drawing, guides    its parts
    fits        whether its values go together
    describe    what it is, in words and rows
"""

from guidekit.preset.model import Preset
from guidekit.preset.source import PresetSource, find_preset, preset_files, read_preset

__all__ = ["Preset", "PresetSource", "find_preset", "preset_files", "read_preset"]
