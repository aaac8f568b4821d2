"""What a picture of an issue says of it at its top."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidekit.issue import LoadedIssue
from guidekit.overview.openings import Opening


def title_of(file: LoadedIssue) -> str:
    """The title with its number."""
    issue = file.issue
    return issue.title if issue.number is None else f"{issue.title} {issue.number}"


def about(file: LoadedIssue, openings: Sequence[Opening]) -> Iterator[str]:
    """What the issue is in a line: format, pages, binding; and what became of its pages."""
    pages = f"{file.pages} page{'' if file.pages == 1 else 's'}"
    bound = f", {file.issue.binding.kind} binding" if file.issue.binding else ""
    way = ", read from right to left" if file.direction == "rtl" else ""
    yield f"{file.preset.title}: {pages}{bound}{way}."
    states = [view.state for opening in openings for view in opening.views if view.state]
    if states:
        counts = (f"{states.count(state)} {state}" for state in dict.fromkeys(states))
        yield f"Pages: {', '.join(counts)}."
