"""How far folding pushes each page of a saddle-stitched book out, and a safe area without that."""

from __future__ import annotations

from fractions import Fraction

from guidekit.issue import LoadedIssue
from guidekit.issue.folding import creep
from guidekit.preset import Preset
from guidekit.units import Length


def creep_of_pages(file: LoadedIssue) -> dict[int, Fraction]:
    """Millimetres by page number; empty where sheets do not lie in each other, or of no paper."""
    binding, pages = file.issue.binding, file.pages
    if not binding or binding.kind != "saddle-stitch" or not binding.thickness:
        return {}
    paper, factor = binding.thickness, binding.creep_factor
    return {n: creep(n, pages, paper, factor) for n in range(1, pages + 1)}


def less_creep(preset: Preset, creep: Fraction) -> Preset:
    """The preset with so many millimetres more between trim and safe area, on the outside."""
    safe_area = preset.safe_area
    outside = Length(safe_area.outside.mm(preset.dpi) + creep, "mm")
    changed = safe_area.model_copy(update={"outside": outside})
    return preset.model_copy(update={"safe_area": changed})
