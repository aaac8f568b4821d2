"""Geometry of the plane: boxes, polygons, outlines, lines; no stage and no word of comics.

::

    box, line, polygon   a rectangle of whole pixels; straight lines; polygons
    outline       a box while that is enough, else a polygon
    bend, ellipse, corners   bent lines, ellipses, stepped and round corners as polygons
    cells         cells of a grid as one polygon
    cuts          what is left on the good side of lines
    sides         a polygon with each of its sides moved
    meeting       which of many boxes meet
    rings         parts of any shape: put together, cut, grown
"""
