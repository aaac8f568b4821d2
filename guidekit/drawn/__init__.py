"""Files that come back: what became of every page, and today's guides put into drawings.

::

    status.py     what became of every file of an issue, and what has changed since it was written
    changes.py    two states of a page compared, in words of the trade
    seen.py       digests of files that have not changed since they were hashed
    own_words.py  what a file of layers says of itself
    unfit.py      why a file cannot be worked on
    psd/          PSD and PSB taken apart by places, nothing decoded that need not be

What the artist made is never decoded and packed again: it is copied as it is, byte for byte.
"""
