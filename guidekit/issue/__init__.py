"""Stage 2, what the book holds: its pages in order, their panels, which preset they use.

In the order in which an issue passes through them::

    models/       what its file may say
    series        what several issues share
    several       all issues of a series, for commands that take them
    load          its file and its preset, read and checked
    label_font    where the font of its labels is looked for
    order         page numbers and sides
    folding       sheets, creep, page turns, spine: pure functions of numbers of pages
    binding       whether it can be bound as it says
    printed_numbers   sections, and the numbers printed on pages
    layouts       arrangements that pages name
    reading, tree a page as a tree of panels in reading order (listed, reading_order: how)
    numbering     the numbers printed on the page, and what is said of panels under them
    file_names    what its files are called
    start         the file of a new issue
"""

from guidekit.issue.load import LoadedIssue, issue_in, load
from guidekit.issue.models.issue import Issue
from guidekit.issue.models.part import Part
from guidekit.issue.order import PageEntry

__all__ = ["Issue", "LoadedIssue", "PageEntry", "Part", "issue_in", "load"]
