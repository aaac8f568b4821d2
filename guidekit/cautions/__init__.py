"""What can cost money or a drawing, said where it matters; the printer's own sheet wins.

::

    book        what the binder makes of it: page counts, folds, creep, page turns
    canvases    what the printer, an eye or a program may make of its canvases
"""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.cautions.book import of_book
from guidekit.cautions.canvases import of_format, of_label, of_paper, of_preset
from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.layers.guides.kind import Guide
from guidekit.registry import Registry
from guidekit.writers import Writer


def cautions(
    file: LoadedIssue,
    plans: Sequence[PagePlan],
    writers: Sequence[Writer],
    guides: Registry[Guide],
) -> tuple[str, ...]:
    """Every caution that applies to these canvases, written by these writers.

    `guides` are all there are.
    """
    of_formats = (said for writer in writers for said in of_format(writer, file.preset, plans))
    return (
        *of_preset(file.preset),
        *of_book(file, plans),
        *of_label(file),
        *of_paper(plans, guides),
        *of_formats,
    )
