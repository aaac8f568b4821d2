"""Stage 2, what the book holds: its pages in order, their panels, which preset they use."""

from guidekit.issue.load import LoadedIssue, load_issue
from guidekit.issue.model import Issue, Part
from guidekit.issue.order import PageEntry

__all__ = ["Issue", "LoadedIssue", "PageEntry", "Part", "load_issue"]
