"""What file formats can hold, asked before anything is written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from guidekit.errors import InputError, Problem, one_of
from guidekit.geometry.page import PagePlan
from guidekit.layers.drawing import drawing_layers
from guidekit.layers.model import all_members
from guidekit.layers.standard import standard_stack
from guidekit.shipped import FullCatalogue
from guidekit.writers.protocol import Writer


def check_limits(
    file: Path, plans: Sequence[PagePlan], writers: Sequence[Writer], catalogue: FullCatalogue
) -> None:
    """Raise `InputError` where a canvas is larger, or has more layers, than a format can hold."""
    largest = max(plans, key=lambda plan: plan.boxes.canvas.longest)
    fullest = max(plans, key=lambda plan: len(plan.panels))
    edge = largest.boxes.canvas.longest
    count = _about_so_many_layers(fullest, catalogue)
    if any(count > writer.limits(largest.book.dpi).layers for writer in writers):
        count = len(list(all_members(standard_stack(fullest, catalogue.guides).members)))
    problems = []
    for writer in writers:
        limits = writer.limits(largest.book.dpi)
        for plan, came, most, what in (
            (largest, edge, limits.edge, "px along an edge"),
            (fullest, count, limits.layers, "layers and groups"),
        ):
            if came > most:
                allowed = f"at most {most:,} {what}"
                told = f"{came:,} {what} are too many for {writer.name}, which holds {allowed}"
                todo = _others_that_hold(edge, count, largest.book.dpi, catalogue)
                problems.append(Problem((), told, allowed, todo, file, pages=plan.numbers))
    if problems:
        raise InputError(problems)


def _about_so_many_layers(plan: PagePlan, catalogue: FullCatalogue) -> int:
    """As many layers and groups as a canvas may have, or some more: no guide is drawn for it."""
    drawing = drawing_layers(plan)
    others = 4  # the group of guides, borders, gutter cover, paper
    return len(catalogue.guides) + len([*all_members((*drawing.above, *drawing.below))]) + others


def _others_that_hold(edge: int, layers: int, dpi: int, catalogue: FullCatalogue) -> str:
    """Advice: the formats that can hold as much."""
    writers = [make() for make in catalogue.writers.wanted(())]
    limits = {writer.name: writer.limits(dpi) for writer in writers}
    able = [name for name, most in limits.items() if edge <= most.edge and layers <= most.layers]
    return f"Take {one_of(able)}." if able else "Take a smaller page or a lower dpi."
