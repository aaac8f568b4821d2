"""The text of a new preset, each value with where it comes from.

::

    canvas_facts.py  what a finished canvas says of its page format
    preset_text.py   the lines of a preset, its text; a preset from answers
    guessed.py       a preset from a canvas: what it says, and what is guessed
"""
