"""The planner: an issue seen as its pages, and shaped by hand, in a browser on this machine.

The text file of the issue stays the only truth: every change is made of its text, checked, and
written back whole. In the order in which a change passes through it::

    static/     what the browser shows; it draws what it is told and computes no box
    guard       who may ask: this machine, this origin, who holds the token
    serving     a port of this machine, until all tabs are closed
    server      what can be asked for, one function each
    asking      a request read, and what is wrong with it in a sentence
    tabs        the tabs that hear what happens
    desk        the issue that lies here: its text, its versions, what changed outside
    issue_file  that text in its file, replaced as a whole
    watching    what happens to that file from outside
    draft       an issue as its text says, sound pages even if others are not
    changes     what may be asked to change, as data
    moving      files of pages that move, listed first
    pages       which pages there are, and in which order
    shaping     the page that comes of a change
    edits/      pure functions that it is made of
    laying      panels laid over others
    knobs/      points that can be dragged
    snaps       where a dragged edge comes to rest
    handles     edges that can be taken hold of
    planned_page  a page laid out, with all of that
    picture, book_view, page_view, format_view    the draft and its pages as plain data
    choices     what there is to choose from, and where it is from
    making      a build, or new guides in drawings, in a thread, and how far it is
    standing    what became of the files that were made
"""
