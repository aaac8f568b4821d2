"""PSD and PSB that are drawn on, by the public PSD file format specification.

::

    sections.py     its five sections, and the image resources
    layers.py       layer records, their blocks, and where the channels of each lie
    packed_rows.py  rows in PackBits
    planes.py       channels decoded a few rows at a time
    drawing.py      an open file, looked into as far as it must be
    resources.py    the image resources of the new file
    splice.py       the new file as pieces: new bytes, and spans of the old one
    seen_layers.py  the layers as `compose` lays them
    differing.py    where what is shown of our layers is not as it was
    merged.py       the merged image, made anew where something of ours differs
    refreshed.py    one file planned, written and compared
"""
