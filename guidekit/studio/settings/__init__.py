"""The maker's own settings.

::

    config.py  where they stand, and what they say
    model.py   the file as it is checked
"""
