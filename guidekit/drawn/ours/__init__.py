"""Which layers of a drawing are guidekit's, and what becomes of each; of no format.

::

    layer_tree.py     the groups and layers of a drawing, and what becomes of each
    wants.py          layers as they were written, and the file in which they are looked for
    first_release.py  the same for files that do not tell
    guide_group.py    the group of guides in a drawing
    new_layers.py     layers to draw on that a page has gained
    arranged.py       the groups and layers of the file to be, put together from what follows
    at_work.py        one file at work, and what is found out about it
    guides.py         the guides of today in the place of the old ones
    single_layers.py  borders, gutter cover, paper, each in its place
    panel_groups.py   groups of panels and their masks
"""
