"""What others bring, tried before anything is written."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.errors import InputError, Problem
from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.model import Stack
from guidekit.layers.palette import pen_for
from guidekit.layers.standard import standard_stack
from guidekit.registry import folded
from guidekit.shipped import FullCatalogue
from guidekit.writers.protocol import Writer


def try_out(plans: Sequence[PagePlan], writers: Sequence[Writer], catalogue: FullCatalogue) -> None:
    """Draw guides on request on each canvas that has them; with such a format, write the first one.

    What is made is not kept. Raises the `InputError` of the first that fails.
    """
    for _ in catalogue.guides.wanted(()):
        pass  # every page may have them, and another may claim their names
    guides = {name: x for name, x in catalogue.guides.entries.items() if x.on_request}
    for plan in plans if guides else ():
        for name, state in plan.guides:
            if name in guides and state != "off":
                guides[name].thing.draw(GuideInput(plan, pen_for(plan)))
    if any(catalogue.writers.entry(writer.name).on_request for writer in writers):
        _try_writers(standard_stack(plans[0], catalogue.guides), writers)


def _try_writers(stack: Stack, writers: Sequence[Writer]) -> None:
    """Write one canvas in all formats, of which no two may give one file."""
    given: dict[str, str] = {}
    for writer in writers:
        for output in writer.write(stack):
            other = given.setdefault(folded(output.name), writer.name)
            if other != writer.name:
                came = f"the formats {other} and {writer.name} both write {output.name}"
                todo = "Build one of them into another folder."
                raise InputError(Problem((), came, todo=todo, argument="formats"))
