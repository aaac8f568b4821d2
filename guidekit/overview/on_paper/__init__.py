"""Sheets of paper to work on by hand: to fold, and to sketch on.

::

    imposition      which pages share a sheet, front and back
    dummy           a dummy of the book, to print and fold
    first_sketches  sheets for first sketches
    sheets          from an issue's file to both
"""
