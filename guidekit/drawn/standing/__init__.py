"""Knowing where one stands: what became of every file of an issue since it was written.

::

    own_words.py      what a file of layers says of itself
    seen.py           digests of files that have not changed since they were hashed
    changes.py        two states of a page compared, in words of the trade
    stood.py          what was told of each page when its guides were drawn
    alike.py          whether a drawing can be of a page, by its panels
    order.py          where pages have gone, by the order of all
    known_again.py    which page a drawing is of, where pages were moved by hand
    renamed_issue.py  files that stand under another name of the issue
    page_files.py     every file of a page
    made_now.py       whether a file is what a build would write today
    status.py         all of it, for each file of an issue
    status_report.py  what is told of them
"""
