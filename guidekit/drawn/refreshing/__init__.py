"""Today's guides put into drawings.

::

    fits.py            whether a drawing fits the page of today, and where
    refresh.py         all drawings of an issue
    refresh_one.py     one file: read, looked into
    new_file.py        the new one, made in one thread and put in its place in another
    refresh_report.py  what became of every file
"""
