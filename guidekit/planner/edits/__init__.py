"""Changes to the values of one page, as its file has them: pure functions, nothing is drawn.

::

    spots       where each panel of a page stands in the file
    contents    a tree of panels as a file writes it: layouts written out in full
    divide      one panel into several
    join        several into one
    from_boxes  tiers and columns, or a map, from boxes alone
    lengths     pixels as a file writes them
    shares      the edge between two parts moved
    slants      a gutter turned, or bent
    sides       a page that differs by its side, one side changed alone
    spreads     two pages as one spread, and back
    names       what a page says of its panels, under their new numbers
"""
