"""An issue read, and measured: what can be known of it before anything is drawn."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from guidekit.geometry.measure import measured
from guidekit.geometry.plan import Pages, plan_issue
from guidekit.issue import LoadedIssue, issue_in, load
from guidekit.issue.load import loaded
from guidekit.memory import remembering
from guidekit.shipped import FullCatalogue, shipped
from guidekit.toml import TomlFile


def load_issue(
    path: str | Path | TomlFile, *, dpi: int | None = None, catalogue: FullCatalogue | None = None
) -> LoadedIssue:
    """Read and check an issue file, or the only one in a folder; `dpi` replaces the preset's.

    In place of a path there may be a file that was read already, as from standard input.
    `catalogue` has all that the issue may name, by default what comes with guidekit. Raises
    `InputError` with every problem of the file, `MachineError` if it cannot be read.
    """
    if isinstance(path, TomlFile):
        return loaded(path, catalogue or shipped(), dpi)
    return load(issue_in(Path(path)), catalogue or shipped(), dpi)


@remembering()
def measure_issue(
    path: str | Path | TomlFile,
    *,
    pages: Pages | None = None,
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
) -> dict[str, Any]:
    """Every box of every canvas in pixels, as plain data; nothing is written.

    ``{"pages": [...]}``, each as `guidekit.geometry.measure.measured` describes. Raises
    `InputError`.
    """
    plans = plan_issue(load_issue(path, dpi=dpi, catalogue=catalogue), pages)
    return {"pages": [measured(plan) for plan in plans]}
