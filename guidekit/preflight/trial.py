"""What others bring, tried before anything is written."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.palette import pen_for
from guidekit.layers.standard import standard_stack
from guidekit.shipped import FullCatalogue
from guidekit.writers.protocol import Writer


def try_out(plans: Sequence[PagePlan], writers: Sequence[Writer], catalogue: FullCatalogue) -> None:
    """Draw guides on request on each canvas that has them, and write the first in such formats.

    What is made is not kept. Raises the `InputError` of the first that fails.
    """
    for _ in catalogue.guides.wanted(()):
        pass  # every page may have them, and another may claim their names
    guides = {name: x for name, x in catalogue.guides.entries.items() if x.on_request}
    for plan in plans if guides else ():
        for name, state in plan.guides:
            if name in guides and state != "off":
                guides[name].thing.draw(GuideInput(plan, pen_for(plan)))
    for writer in writers:
        if catalogue.writers.entry(writer.name).on_request:
            for _ in writer.write(standard_stack(plans[0], catalogue.guides)):
                pass
