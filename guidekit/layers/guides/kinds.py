"""The guides that come with guidekit: one row each, the uppermost first.

It loads none of the functions that draw them, so that their names are known at little cost.
"""

from __future__ import annotations

from guidekit.layers.guides.kind import Guide
from guidekit.layers.palette import (
    BLUE,
    BLUISH_GREEN,
    ORANGE,
    REDDISH_PURPLE,
    SKY_BLUE,
    VERMILLION,
)
from guidekit.registry import Named

# Opacities in percent, and why they are not all 100. Lines of one pattern differ in tone as well,
# by at least 20 of 255 steps, so that grey files have guides that can be told apart.
SOLID = 100  # thin lines, and words in the margin
DIGITS = 60  # they stand in the art, which shall be seen through them
RULES = 75  # many lines
RAYS = 60  # they crowd where they meet
SQUARES = 50  # so many lines that they would make a page dark
TINT = 30  # an area: drawings beneath keep their lights and darks
STRIP = 55  # an area that lies across drawings
WORDS = None  # black, or white on dark paper


def _by(place: str) -> Named:
    return Named(f"guidekit.layers.guides.{place}")


GUIDES = (
    Guide(  5, "legend",             "Legend",             "off",    WORDS,          SOLID,  _by("legend:legend")),
    Guide( 10, "page_label",         "Page label",         "shown",  WORDS,          SOLID,  _by("label:page_label")),
    Guide( 20, "panel_numbers",      "Panel numbers",      "shown",  WORDS,          DIGITS, _by("numbers:panel_numbers")),
    Guide( 30, "lettering_lines",    "Lettering lines",    "hidden", BLUE,           RULES,  _by("panels:lettering_lines")),
    Guide( 40, "perspective",        "Perspective",        "shown",  REDDISH_PURPLE, RAYS,   _by("construction:perspective")),
    Guide( 50, "square_grid",        "Square grid",        "shown",  SKY_BLUE,       SQUARES, _by("construction:square_grid")),
    Guide( 60, "construction_lines", "Construction lines", "hidden", ORANGE,         SOLID,  _by("construction:construction_lines")),
    Guide( 70, "diagonals",          "Diagonals",          "off",    SKY_BLUE,       SOLID,  _by("panels:diagonals")),
    Guide( 80, "thirds",             "Thirds",             "off",    BLUISH_GREEN,   SOLID,  _by("panels:thirds")),
    Guide( 90, "panel_centre_lines", "Panel centre lines", "off",    REDDISH_PURPLE, SOLID,  _by("panels:centre_lines")),
    Guide(100, "centre_lines",       "Centre lines",       "hidden", REDDISH_PURPLE, SOLID,  _by("pages:centre_lines")),
    Guide(104, "spine",              "Spine",              "shown",  ORANGE,         SOLID,  _by("cover:spine")),
    Guide(106, "barcode",            "Barcode",            "shown",  BLUE,           SOLID,  _by("cover:barcode")),
    Guide(110, "screen_marks",       "Screen marks",       "shown",  REDDISH_PURPLE, SOLID,  _by("pages:screen_marks")),
    Guide(120, "fold_strip",         "Fold strip",         "shown",  ORANGE,         STRIP,  _by("pages:fold_strip")),
    Guide(130, "trim_marks",         "Trim marks",         "off",    WORDS,          SOLID,  _by("pages:trim_marks")),
    Guide(140, "safe_area",          "Safe area",          "shown",  BLUISH_GREEN,   SOLID,  _by("pages:safe_area")),
    Guide(150, "trim",               "Trim",               "shown",  VERMILLION,     SOLID,  _by("pages:trim")),
    Guide(160, "bleed",              "Bleed",              "shown",  BLUE,           SOLID,  _by("pages:bleed")),
    Guide(170, "gutters",            "Gutters",            "shown",  SKY_BLUE,       TINT,   _by("panels:gutters")),
    Guide(180, "ruler_guides",       "Ruler guides",       "shown",  WORDS,          SOLID,  _by("rulers:ruler_guides"), states=("shown", "off")),
)  # fmt: skip
