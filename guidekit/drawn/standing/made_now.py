"""Whether a file is what a build would write today, where no record tells what a build wrote."""

from __future__ import annotations

from pathlib import Path

from guidekit.drawn.standing.own_words import LAYERED
from guidekit.geometry.page import PagePlan
from guidekit.layers.standard import standard_stack
from guidekit.shipped import FullCatalogue
from guidekit.store.files import digest_of_pieces, find


def is_made_now(file: Path, plan: PagePlan, catalogue: FullCatalogue) -> bool:
    """True if a file of layers is byte for byte as a build without `layers` would write it.

    Raises `OSError`.
    """
    found = find(file)
    writer = catalogue.writers.find(LAYERED[file.suffix.lower()])()
    for output in writer.write(standard_stack(plan, catalogue.guides)):
        if output.name == file.name:
            return found is not None and found.digest == digest_of_pieces(output.pieces)
    return False
