"""What comes with guidekit, by name, for tests of a single stage."""

from pathlib import Path

from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Stack
from guidekit.layers.standard import standard_stack
from guidekit.preset import Preset, PresetSource, find_preset
from guidekit.shipped import shipped
from guidekit.writers import Writer

PRESETS = tuple(shipped().presets)
LAYOUTS = shipped().layouts
GUIDES = {guide.name: guide for guide in shipped().guides.things()}
FORMATS = tuple(shipped().writers)


def preset_source(name: str, folder: Path = Path()) -> PresetSource:
    """The preset of this name, or in this file, with where its values come from."""
    return find_preset(name, shipped(), folder)


def preset_called(name: str) -> Preset:
    """The preset of this name."""
    return preset_source(name).preset


def stack_of(plan: PagePlan) -> Stack:
    """The stack of a page with the guides that come with guidekit."""
    return standard_stack(plan, shipped().guides)


def writer_called(name: str) -> Writer:
    """A writer of the format of this name."""
    return shipped().writers.find(name)()
