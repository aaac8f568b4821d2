"""What the printer, an eye or a program may make of canvases: bleed, labels, paper, formats."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.layers.guides.faint import LEAST_CONTRAST, faint_guides
from guidekit.layers.guides.kind import Guide
from guidekit.preset import Preset
from guidekit.preset.sizes import EDGE_NAMES
from guidekit.raster.typeset import missing_letters
from guidekit.registry import Registry
from guidekit.units import decimal, half_up
from guidekit.writers import Writer


def of_preset(preset: Preset) -> Iterator[str]:
    """The preset's own caution, and bleeds that fall on half a pixel."""
    if preset.caution:
        yield preset.caution
    for edge in EDGE_NAMES:
        length = getattr(preset.bleed, edge)
        px = length.px(preset.dpi)
        if px.denominator == 2:
            yield (
                f"At {preset.dpi} dpi the bleed of {length} is {decimal(px)} px, and files hold "
                f"whole pixels: it comes out as {half_up(px)} or {half_up(px) - 1} px. At "
                f"{preset.dpi * 2} dpi it is exact."
            )
            break


def of_label(file: LoadedIssue) -> Iterator[str]:
    """Letters that no font at hand has."""
    notes = dict.fromkeys(entry.page.note or "" for entry in file.entries)
    words = [file.issue.title, file.preset.title, *notes]
    if missing := missing_letters("".join(words), file.font):
        own = file.issue.label_font
        looked = f"neither {own} nor guidekit's own fonts have" if own else "guidekit's fonts lack"
        yield (
            f"The page labels cannot show {missing[:20]}: {looked} these letters. Name a font "
            "that has them as label_font in the issue. Names of layers are not affected."
        )


def of_paper(plans: Sequence[PagePlan], guides: Registry[Guide]) -> Iterator[str]:
    """Guides that are hard to see on the paper."""
    by_paper: dict[str, list[PagePlan]] = {}
    for plan in plans:
        by_paper.setdefault(plan.book.furniture.paper, []).append(plan)
    for paper, pages in by_paper.items():
        if faint := faint_guides(pages, guides):
            named = ", ".join(f"{name} ({ratio:.1f} : 1)" for name, ratio in faint.items())
            yield (
                f"On paper {paper} these guides are hard to see: {named}. A contrast of "
                f"{LEAST_CONTRAST} : 1 is enough; a paper that is lighter or darker gives more."
            )


def of_format(writer: Writer, preset: Preset, plans: Sequence[PagePlan]) -> Iterator[str]:
    """What a format cannot hold of these canvases, or few programs open."""
    limits = writer.limits(preset.dpi)
    longest = max(plans, key=lambda plan: plan.boxes.canvas.longest)
    edge, most = longest.boxes.canvas.longest, limits.common_edge
    if most and edge > most:
        yield (
            f"Format {writer.name}, {longest.called}: several programs do not open a file of "
            f"{edge:,} px, only up to {most:,} px along an edge."
        )
    if preset.panel_groups and not limits.masks:
        yield (
            f"Format {writer.name} has no masks: what is drawn in the group of a panel shows "
            "outside of the panel too. The format psd has them."
        )
    if preset.colour == "grey" and not limits.grey:
        yield f"Format {writer.name} has no grey: its greys are stored as red, green and blue."
    if preset.depth > limits.depth:
        yield (
            f"Format {writer.name} holds {limits.depth} bits a channel, and not the "
            f"{preset.depth} of the preset."
        )
