"""``guidekit check``: a whole issue, and nothing written."""

from __future__ import annotations

from dataclasses import asdict

from guidekit.cli.around import studio_of
from guidekit.cli.options import AsJson, Dpi, Formats, IssuePath, issue_given, names_in
from guidekit.cli.say import print_json, say


def check(
    issue: IssuePath, formats: Formats = "psd", dpi: Dpi = None, as_json: AsJson = False
) -> None:
    """Check a whole issue as a build would, and write nothing.

    Every problem is told with its line; where there is none, the cautions.

    Example: guidekit check examples/salt-road.toml
    """
    from guidekit.build import check_issue

    given = issue_given(issue)
    with studio_of(given) as studio:
        studio.look_at_lock()
        known = studio.catalogue
        report = check_issue(given, formats=names_in(formats), dpi=dpi, catalogue=known)
    if as_json:
        print_json({"issue": str(issue), **asdict(report)})
        return
    pages = f"{report.pages} page{'' if report.pages == 1 else 's'}"
    canvases = f"{report.canvases} canvas{'' if report.canvases == 1 else 'es'}"
    say(f"{issue}: {report.title}, {pages} on {canvases}, fit to build.")
    for caution in report.cautions:
        say(f"Caution: {caution}")
