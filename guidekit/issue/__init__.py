"""Stage 2, what the book holds: its pages in order, their panels, which preset they use.

In the order in which an issue passes through them::

    model, panel_model, share, letter_map    what its file may say
    load          its file and its preset, read and checked
    order         page numbers and sides
    layouts       arrangements that pages name
    reading, tree a page as a tree of panels in reading order
    numbering     the numbers printed on the page, and what is said of panels under them
    file_names    what its files are called
    start         the file of a new issue
"""

from guidekit.issue.load import LoadedIssue, issue_in, load
from guidekit.issue.model import Issue, Part
from guidekit.issue.order import PageEntry

__all__ = ["Issue", "LoadedIssue", "PageEntry", "Part", "issue_in", "load"]
