"""Today's guides put into drawings.

::

    fits.py            whether a drawing fits the page of today, and where
    refresh.py         all drawings of an issue
    refresh_one.py     one file: read, looked into, replaced
    refresh_report.py  what became of every file
"""
