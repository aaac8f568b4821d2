"""Files that come back: what became of every page, and today's guides put into drawings.

Three things are done with them, each on a floor that uses those before it::

    standing/    where one stands: what each file says of itself, whether it was drawn on, what of
                 its page has changed since, and which page it is of where pages were moved by hand
    refreshing/  today's guides in all drawings of an issue
    moving/      pages in another order, with all their files, which are then refreshed

A drawing that is refreshed passes through the floors below them in this order::

    spans/       1 its file is open, and read by places, never beyond its end
    psd/, ora/   2 its layers are found; nothing is decoded that need not be
    ours/        3 which of them are guidekit's, and what becomes of each
    composing/   4 what the new layers show together, where a file keeps a picture of that
    psd/, ora/   5 the new file is laid out in pieces: new bytes, and spans of the old one
    spans/       6 the pieces are written, and what was drawn is compared with the old file

All share `info.py`, what a file says of its page, and `unfit.py`, why a file cannot be worked on.
What the artist made is never decoded and packed again: it is copied as it is, byte for byte.
"""
