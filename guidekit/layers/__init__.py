"""Stage 4, what is stacked: the groups and layers of one canvas, guides above, paper below.

::

    model         a stack of groups and layers, neutral between what is drawn and how it is stored
    standard      the stack that every page gets, of
    guides/       a layer for each kind of guide
    panels, folio, drawing   borders, printed page numbers, the empty layers to draw on
    palette       colours, dashes and line weights
    choose        a stack with only some of its layers
    prints        by what a layer is known again in a file that was drawn on
"""
