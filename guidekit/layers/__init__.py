"""Stage 4, what is stacked: the groups and layers of one canvas, guides above, paper below."""

from guidekit.layers.choose import check_names, only
from guidekit.layers.model import Group, Layer, Stack, all_members
from guidekit.layers.standard import standard_stack

__all__ = ["Group", "Layer", "Stack", "all_members", "check_names", "only", "standard_stack"]
