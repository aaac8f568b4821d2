"""The names of layers that an issue can have, for those who choose among them."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.geometry.plan import plan_issue
from guidekit.layers.model import all_members
from guidekit.layers.standard import standard_stack
from guidekit.measure import load_issue
from guidekit.studio.catalogue import Studio


def layer_names(studio: Studio) -> Iterator[str]:
    """Groups and layers of the issue's first page, the uppermost first; without one, of guides.

    Raises `InputError`.
    """
    guides = studio.catalogue.guides
    if not studio.issue:
        return (guide.layer for guide in guides.wanted(()))
    plan = plan_issue(load_issue(studio.issue, catalogue=studio.catalogue))[0]
    members = all_members(standard_stack(plan, guides).members)
    return iter(dict.fromkeys(member.name for member in members))
