"""What there is to name, for people who choose.

::

    rows.py         presets and layouts, where each is from and what it hides
    layer_names.py  the layers that an issue can have
"""
