"""Files by places: read no further than they go, copied in spans, compared byte for byte.

::

    source.py   a file read by places, never beyond its end; what a new one is made of
    copying.py  spans of an old file copied, two files compared
"""
