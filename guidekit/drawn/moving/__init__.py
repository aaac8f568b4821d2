"""Pages that move, with all their files.

::

    page_texts.py  the pages of an issue's file in another order
    canvases.py    the new name of every canvas, and what is told of their pages
    new_names.py   the names of all files of pages that get another number
    renaming.py    files that get other names with their pages, and are then refreshed
    moves.py       pages put in another place, put in, taken out; the last move taken back
    rewriting.py   the issue's file with any other text, with all their files
"""
