"""How a layer's coverage is held: as bands of runs, never as a plane of pixels.

::

    shapes        what covers: ruled lines, polygons, strokes, text
    text          a short label, with its
    typeset, face, font, curves   glyphs in their places, their outlines, the file that has them
    fill          boxes and rings as bands, by exact area
    bands         how coverage is held
    blend, mix    bands put together, and many pictures mixed into one
"""
