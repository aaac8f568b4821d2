"""What an issue's file may say, each part of it checked as it is read.

From the whole to the smallest::

    issue         the issue, and one entry of its pages
    series        what several issues share
    book          binding, sections, page numbers to print
    part          what fills a page or a part of it; named layouts
    panel         single panels, insets, perspective
    own_shape     shapes of their own, and figures that break out
    by_side       what holds for left pages only, or for right ones
    letter_map    a page drawn in letters
    block         the cells of one letter
    share         how much a panel gets of a width or height
    bending       how a gutter bends
    scroll_values heights and gaps of a vertical scroll
"""
