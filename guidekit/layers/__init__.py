"""Stage 4, what is stacked: the groups and layers of one canvas, guides above, paper below."""

from guidekit.layers.choose import only
from guidekit.layers.model import Group, Layer, Stack, all_members
from guidekit.layers.standard import standard_stack

__all__ = ["Group", "Layer", "Stack", "all_members", "only", "standard_stack"]
