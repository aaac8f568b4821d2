"""OpenRaster files that are drawn on, baseline version 0.0.6.

::

    archive.py    the ZIP: members copied as they are packed, and new ones
    drawing.py    the layers of an open file, looked into as far as they must be
    stack.py      the document of layers with other ones of ours
    merged.py     the merged image and the thumbnail, made anew
    refreshed.py  one file planned, written and compared
"""
