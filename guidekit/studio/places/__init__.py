"""Folders with presets, layouts and packs.

::

    folder.py  files are read for as long as their folder answers
    held.py    one file with a preset or with layouts, opened when it is wanted
    place.py   a folder as it was listed
"""
