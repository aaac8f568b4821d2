"""JSON Schema of every kind of file, made from the models that check them.

It is for editors that complete and check while one types. It lets pass what is right and tells
unknown keys, wrong kinds of values and wrong words; whether values go together, ``check`` tells.

::

    kept/       a file for each kind, which comes with guidekit
    kept_files  where those are
    files       of what they are made
    spellings   how values are written that functions of ours read
    events      the lines that commands print for scripts
"""
