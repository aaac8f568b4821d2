"""``guidekit check``: a whole issue, and nothing written."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.cli.around import studio_of
from guidekit.cli.options import AsJson, Dpi, Formats, IssuesPath, issue_given, names_in
from guidekit.cli.say import print_each, say

if TYPE_CHECKING:
    from guidekit.build import CheckReport


def check(
    issue: IssuesPath, formats: Formats = "psd", dpi: Dpi = None, as_json: AsJson = False
) -> None:
    """Check a whole issue, or all of a series, as a build would, and write nothing.

    Every problem is told with its line; where there is none, the cautions.

    Example: guidekit check examples/salt-road.toml
    """
    from guidekit.issue.several import for_each, issues_at

    def check_one(issue: Path) -> CheckReport:
        from guidekit.build import check_issue

        given = issue_given(issue)
        with studio_of(given) as studio:
            studio.look_at_lock()
            known = studio.catalogue
            return check_issue(given, formats=names_in(formats), dpi=dpi, catalogue=known)

    issues = issues_at(issue)
    reports = for_each(issues, check_one)
    if as_json:
        pairs = zip(issues, reports, strict=True)
        print_each([{"issue": str(one), **asdict(report)} for one, report in pairs])
        return
    for one, report in zip(issues, reports, strict=True):
        _tell(one, report)


def _tell(issue: Path, report: CheckReport) -> None:
    pages = f"{report.pages} page{'' if report.pages == 1 else 's'}"
    canvases = f"{report.canvases} canvas{'' if report.canvases == 1 else 'es'}"
    say(f"{issue}: {report.title}, {pages} on {canvases}, fit to build.")
    for caution in report.cautions:
        say(f"Caution: {caution}")
