"""Pictures of a whole issue, drawn from the same laid-out pages as its canvases.

::

    openings.py    pages as they face each other, each with what became of it
    canvases.py    what became of their files, from the folder of a build
    thumbnails.py  small pictures of what is drawn, out of those files
    web/           one HTML file, with no need of a network
    papers.py      what they are laid out on: one picture, or paper for the wall
    sheet.py       pages laid out there in rows
    sheet_layers.py  a sheet as a stack of layers (words, numbers, colours: what is on it)
    files.py       the sheets as PNG and PDF
    own.py         files that may be written anew
    one_page.py    pages by themselves
    on_paper/      a dummy to fold, sheets for first sketches
    characters.py  the issue in characters, for a terminal
    make.py        from an issue's file to any of them
"""
