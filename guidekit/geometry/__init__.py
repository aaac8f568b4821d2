"""Stage 3, where things lie: boxes, panels and the pixel grid; pure functions of fixed values.

In the order in which a page passes through them::

    page_boxes    canvas, bleed, trim and safe area of every side
    creep         how far folding pushes pages out
    folio         where page numbers are printed
    book          what all canvases of an issue share
    rules         what all pages of an issue are laid out by
    divide        a length by shares and gutters, in whole pixels
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
    setting       what holds for the panels of one canvas
    edges         a panel that runs out to the bleed, or breaks out of its place
    butted        panels that lie against each other and share a border
    shape         outline, border, corners
    forms         shapes of their own: corners, ellipses, tilts
    free          panels and figures of such a shape
    ground        what an inset lies over, with its real corners
    insets        panels laid over others
    stacking      what lies above is cut out of what lies below
    perspective   horizon, vanishing points, walls
    panels        from places to panels
    gutters       those that go on beyond the frame
    canvas        what is found out about one canvas
    pages         a page or a spread on its canvas
    column        a scroll cut into canvases
    scroll        its canvases with their panels
    page          a laid-out canvas, for the stages that follow
    cover         front and back, or a cover that wraps round
    plan          the whole issue
    measure       its numbers as plain data
    digest        one number for all that a canvas is made of
"""
