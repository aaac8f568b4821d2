"""Points that can be dragged: of bent gutters, of free shapes, of the places of a scroll.

Each module finds those of its kind on a page, and gives the values of the page after one of them
was dragged.
"""

from guidekit.planner.knobs.every import knobs_of, pulled
from guidekit.planner.knobs.knob import Knob

__all__ = ["Knob", "knobs_of", "pulled"]
