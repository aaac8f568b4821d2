"""Files that come back: what became of every page, and today's guides put into drawings.

::

    status.py     what became of every file of an issue, and what has changed since it was written
    changes.py    two states of a page compared, in words of the trade
    seen.py       digests of files that have not changed since they were hashed
    own_words.py  what a file of layers says of itself
    refresh.py    today's guides in all drawings of an issue, file by file
    refresh_one.py  the same in one of them
    refresh_report.py  what became of each
    fits.py       whether a drawing fits the page of today, and where
    moves.py      pages in another order, with all their files
    rewriting.py  the issue's file with any other text, with all their files
    renaming.py   files that get other names with their pages
    page_files.py  every file of a page
    page_texts.py  the pages of an issue's file in another order
    known_again.py  which page a drawing is of, where pages were moved by hand
    alike.py      whether a drawing can be of a page
    layer_tree.py  the groups and layers of a drawing, and what becomes of each
    wants.py      layers as they were written
    guide_group.py  the group of guides in a drawing
    ours.py       which layers are guidekit's, and what becomes of them
    first_release.py  the same for files that do not tell
    runs.py       from pixels to runs and back, a few rows at a time
    compose.py    layers laid on each other: what a file shows
    source.py     a file read by places, never beyond its end
    made_layers.py  layers of ours as `compose` lays them
    copying.py    spans of an old file copied, two files compared
    unfit.py      why a file cannot be worked on
    ora/          OpenRaster
    psd/          PSD and PSB taken apart by places, nothing decoded that need not be

What the artist made is never decoded and packed again: it is copied as it is, byte for byte.
"""
