"""PSD and PSB that are drawn on, by the public PSD file format specification.

::

    source.py     a file read by places, never beyond its end
    sections.py   its five sections, and the image resources
    layers.py     layer records, their blocks, and where the channels of each lie
"""
