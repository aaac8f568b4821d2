"""Stage 3, where things lie: boxes, panels and the pixel grid; pure functions of fixed values.

In the order in which a page passes through them::

    page_boxes    canvas, bleed, trim and safe area of every side
    creep         how far folding pushes pages out
    folio         where page numbers are printed
    book          what all canvases of an issue share
    rules         what all pages of an issue are laid out by
    division/     a frame by its tree of panels, in whole pixels
    panels/       from places to panels
    gutters       those that go on beyond the frame
    canvas        what is found out about one canvas
    refill        one page of a spread filled anew
    pages         a page or a spread on its canvas
    column        a scroll cut into canvases
    scroll        its canvases with their panels
    page          a laid-out canvas, for the stages that follow
    cover         front and back, or a cover that wraps round
    plan          the whole issue
    measure       its numbers as plain data
    digest        one number for all that a canvas is made of
"""
