"""From places in a frame to panels as they are seen.

In the order in which a page passes through them::

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
    made          all of them together
"""
