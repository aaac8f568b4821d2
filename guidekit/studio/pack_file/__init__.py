"""The file that a pack is.

::

    names.py    names that a pack may have inside
    card.py     what the pack is, with a digest of each file in it
    archive.py  the archive, written and read
"""
