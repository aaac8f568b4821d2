"""Stage 1, what a page is made of: trim, bleed, safe area, gutters, resolution, drawing layers."""

from guidekit.preset.model import Preset
from guidekit.preset.source import PresetSource, find_preset, preset_files, read_preset

__all__ = ["Preset", "PresetSource", "find_preset", "preset_files", "read_preset"]
