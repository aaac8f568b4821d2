"""Packs handed on from one maker to the others.

::

    contents.py  presets and layouts by name, with all that they need
    changes.py   what a pack would change
    kept.py      added to a folder, moved on, removed
    compare.py   two packs side by side, or two presets
"""
