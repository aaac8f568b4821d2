"""How things are found by name: one registry for each kind, one catalogue that is passed along.

It knows no stage: what a preset, a layout, a guide or a writer is, those know that make them.
"""

from guidekit.registry.catalogue import Catalogue
from guidekit.registry.lookup import unknown
from guidekit.registry.named import Named
from guidekit.registry.places import stacked
from guidekit.registry.registry import Entry, Registry, folded

__all__ = ["Catalogue", "Entry", "Named", "Registry", "folded", "stacked", "unknown"]
