"""What a file shows: its layers laid on each other, a few rows at a time.

::

    runs.py           from pixels to runs and back
    compose.py        layers laid on each other
    made_layers.py    layers of ours as `compose` lays them
    small_picture.py  a small picture of what they show
"""
