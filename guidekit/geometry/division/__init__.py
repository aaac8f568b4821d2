"""A frame divided by its tree of panels, in whole pixels.

In the order in which a page passes through them::

    divide        a length by shares and gutters
    spacing       gutters of a page, and which way it is laid out
    progression   lengths at equal steps
    equal_row     a row whose equal parts are equal to the pixel
    equal         a page of them: the largest frame that loses nothing
    region        where a part lies, straight or slanted
    leaning       how far gutters lean that lean to a corner
    slants        gutters that lean
    bends         gutters that bend
    diagonals     triangles
    arrange       the tree of splits as places in a frame
"""
