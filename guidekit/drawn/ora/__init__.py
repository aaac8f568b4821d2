"""OpenRaster files that are drawn on, baseline version 0.0.6.

::

    archive.py      the ZIP: members copied as they are packed, and new ones
    png_rows.py     the rows of a layer, a few at a time
    drawing.py      the layers of an open file, looked into as far as they must be
    stack.py        the document of layers with other ones of ours
    seen_layers.py  the layers as `compose` lays them
    merged.py       the merged image and the thumbnail, made anew
    refreshed.py    one file planned, written and compared
"""
