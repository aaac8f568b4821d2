"""Stage 1, what a page is made of: trim, bleed, safe area, gutters, resolution, drawing layers."""

from guidekit.preset.model import Preset
from guidekit.preset.registry import PresetRegistry, PresetSource, shipped_registry

__all__ = ["Preset", "PresetRegistry", "PresetSource", "shipped_registry"]
