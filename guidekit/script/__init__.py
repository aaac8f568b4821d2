"""Comic scripts as writers hand them over: read, turned into an issue, compared with one.

::

    script.py     what a script holds: pages, panels, who says what, lines that were not understood
    numbers.py    numbers as digits and in words
    source.py     the file as lines, whatever its encoding
    fountain.py   what is particular to Fountain, an open format for scripts
    headings.py   headings of pages and panels, in several languages
    reader.py     what each line is
    reading.py    from the file to pages and panels
    room.py       how many words a panel has room for
    tiers.py      a fitting arrangement for so many panels with so many words
    proposal.py   the file of a new issue
    start.py      that file written
    drift.py      where a script and an issue have drifted apart
"""
