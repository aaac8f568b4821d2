"""Whether a file is what a build would write today, where no record tells what a build wrote."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

from guidekit.drawn.standing.own_words import LAYERED
from guidekit.geometry.page import PagePlan
from guidekit.layers.standard import standard_stack
from guidekit.shipped import FullCatalogue
from guidekit.store.files import find


def is_made_now(file: Path, plan: PagePlan, catalogue: FullCatalogue) -> bool:
    """True if a file of layers is byte for byte as a build without `layers` would write it.

    Raises `OSError`.
    """
    found = find(file)
    writer = catalogue.writers.find(LAYERED[file.suffix.lower()])()
    for output in writer.write(standard_stack(plan, catalogue.guides)):
        if output.name == file.name:
            digest = sha256()
            for piece in output.pieces:
                digest.update(piece)
            return found is not None and found.digest == digest.hexdigest()
    return False
