"""What is looked at before a build writes its first file, and all that a check looks at.

::

    limits    what file formats can hold
    trial     what others bring, tried
"""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.cautions import cautions
from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.preflight.limits import check_limits
from guidekit.preflight.trial import try_out
from guidekit.shipped import FullCatalogue
from guidekit.writers.protocol import Writer


def preflight(
    issue: LoadedIssue,
    plans: Sequence[PagePlan],
    writers: Sequence[Writer],
    catalogue: FullCatalogue,
) -> tuple[str, ...]:
    """The cautions for these canvases, once nothing stands in the way of writing them.

    Raises `InputError`.
    """
    notes = cautions(issue, plans, writers, catalogue.guides)
    check_limits(issue.path, plans, writers, catalogue)
    try_out(plans, writers, catalogue)
    return notes
