"""The lock of an issue: what it uses and does not hold itself, with all values.

::

    path.py     where it lies
    model.py    what it says, and how it is read
    used.py     what an issue uses
    written.py  the lock made of that, put beside the issue
    held.py     what is locked counts before all other of its name
    moved.py    what is another thing now than in the lock
"""
