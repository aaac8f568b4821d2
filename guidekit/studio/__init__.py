"""Where presets and layouts come from, and how a studio shares them and holds them still.

What there is to name comes together on these floors, each of which uses those before it::

    settings/      1 the maker's own settings: folders of the studio, plug-ins that may run
    pack_file/     2 the file that a pack is, looked at before anything in it is used
    places/        3 folders with presets, layouts and packs, in the order in which they count
    difference.py    two page formats or two layouts compared, in words of the trade
    lock/          4 what an issue uses, held still in a file beside it
    catalogue.py   5 all that an issue may name, from all of these

And this is done with it::

    lists/         rows of lists, names to choose from
    locking.py     the lock of an issue is written
    packs/         presets and layouts by name bundled, added to a folder, removed, compared
    proposing/     the text of a new preset, from answers or from a finished canvas
"""
