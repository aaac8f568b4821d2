"""Where presets and layouts come from, and how a studio shares them and holds them still.

::

    config      the maker's own settings: folders of the studio, plug-ins that may run
    places      folders with presets and layouts, in the order in which they count
    catalogue   all that an issue may name, from all of them
    rows        what lists show of it
    lock        what an issue uses, written beside it (lock_model: how)
    moved       what is another thing now than in the lock
    pack_make   presets and layouts by name, bundled with all that they need
    pack_file   the file that a pack is, looked at before it is used (pack_model, pack_names)
    packs       added to a folder, moved on and removed
    canvas_facts  what a finished canvas says of its page format
    propose     from a canvas or from answers to the text of a preset
    compare     two presets or packs side by side
    difference  of two page formats or layouts, in words of the trade
"""
