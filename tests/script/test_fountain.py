"""Fountain, by its published syntax."""

from pathlib import Path

from support.script_texts import script, shape

FOUNTAIN = """\
Title: The Well
Author: Nobody
    and somebody

# Act One

## PAGE 1

.PANEL 1
Sand. /* PAGE 9
PANEL 4 */ And wind. [[PANEL 5: later?]]

@McADA
(tired)
Nothing here.

BRICK ^
~Sing of salt.

> CUT TO:

INT. TENT - NIGHT

= PAGE 7 is a synopsis

===

## PAGES 2-3
### Panel One
!PAGE 8 IS FORCED ACTION, AND A HEADING ALL THE SAME
"""


def test_fountain(tmp_path: Path) -> None:
    """Title page, sections, forced elements, notes and comments as fountain.io/syntax has them."""
    read = script(tmp_path, FOUNTAIN, "well.fountain")
    assert read.title == "The Well"
    assert shape(read) == [(1, False, 1), (2, True, 1)]
    first, second = read.pages
    assert (first.section, second.section) == ("Act One", "")
    assert first.panels[0].description == ["Sand.", "And wind."]
    assert first.panels[0].speeches == [("McADA", ["Nothing here."]), ("BRICK", ["Sing of salt."])]
    assert read.remarks == ()


def test_fountain_to_the_letter(tmp_path: Path) -> None:
    """Emphasis in titles, two spaces within a speech, transitions, what is opened and never ends.

    fountain.io/syntax: Title Page, Emphasis, Dialogue, Transition, Notes, Boneyard.
    """
    read = script(
        tmp_path,
        "Title:\n    _**Glass Harbour**_\n\n# PAGE 1\n## PANEL 1\n\nORLA\nOne.\n  \nTwo.\n\n"
        "CUT TO:\n\nA note [[that\nnever ends.\n\n## PANEL 2\nA /* sign.\n",
        "glass.fountain",
    )
    assert read.title == "Glass Harbour"
    first, second = read.pages[0].panels
    assert first.speeches == [("ORLA", ["One.", "Two."])]
    assert first.description == ["A note [[that", "never ends."]
    assert second.description == ["A /* sign."]
