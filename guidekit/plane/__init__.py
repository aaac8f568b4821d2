"""Geometry of the plane: boxes, polygons, outlines, lines; no stage and no word of comics."""
