"""Wrong issues: one clear message for each problem, exit code 2, and nothing is written."""

from pathlib import Path

import pytest
from support.samples import HEAD, SPLASH, one_page, refused

from guidekit.errors import one_of
from guidekit.issue.model import Issue, Page
from guidekit.preset import Preset, shipped_registry

UNITS = "(mm, cm, in, pt or px)"
NO_LENGTH = f'a length is a number and a unit, as in "3 mm" or "1/8 in" {UNITS}'
PRESETS = f"{one_of(shipped_registry().names())}, or the path of a .toml file"
FIT = "Take fewer or smaller parts, or a narrower gutter."
MISSING = "nothing is there. Allowed: this key must be given."
ISSUE_KEYS = one_of(Issue.model_fields)
PAGE_KEYS = one_of(Page.model_fields)
PRESET_KEYS = one_of([*Preset.model_fields, "based_on"])


def book(text: str) -> str:
    """An issue of one splash page with these keys in its head."""
    return f"{HEAD}{text}\n{SPLASH}"


WRONG = {
    # unknown keys and names
    "unknown key": (
        book('titel = "x"'),
        f'titel: unknown key. Allowed: {ISSUE_KEYS}. Did you mean "title"?',
    ),
    "unknown key of a page": (
        one_page("panels = 1\ntierz = [1]"),
        f'pages[1].tierz: unknown key. Allowed: {PAGE_KEYS}. Did you mean "tiers"?',
    ),
    "unknown key of the format": (
        book('format.gutters = "3 mm"'),
        f'format: gutters: unknown key. Allowed: {PRESET_KEYS}. Did you mean "gutter"?',
    ),
    "unknown key of a panel": (
        one_page('panels = 1\npanel.1.blead = "all"'),
        "pages[1].panel.1.blead: unknown key. Allowed: bleed, border, break_out, perspective or "
        'radius. Did you mean "bleed"?',
    ),
    "unknown preset": (
        book("").replace("us-comic", "us-comik"),
        f'preset: there is no preset "us-comik". Allowed: {PRESETS}. Did you mean "us-comic"?',
    ),
    "no file of a preset": (
        book("").replace("us-comic", "../mine.toml"),
        'preset: there is no file "../mine.toml". Allowed: the path of a .toml file.',
    ),
    "unknown layout": (
        one_page('panels = "sixgrid"'),
        'pages[1] (page 1), panels: there is no layout "sixgrid". '
        'Allowed: see guidekit layouts list. Did you mean "six-grid"?',
    ),
    "unknown panel": (
        one_page('tiers = [2]\npanel.3.bleed = "all"'),
        "pages[1] (page 1), panel.3: there is no such panel on the page. Allowed: 1 to 2.",
    ),
    "unknown side": (
        one_page('panels = 1\npanel.1.bleed = "left"'),
        "pages[1].panel.1.bleed: got 'left'. "
        'Allowed: "all", or a list of bottom, inside, outside or top.',
    ),
    "side away from the edge": (
        one_page('tiers = [1, 1]\npanel.1.bleed = "bottom"'),
        'pages[1] (page 1), panel.1.bleed: "bottom", but no edge of the panel lies there at the '
        "edge of the frame. Allowed: inside, outside or top for this panel. "
        "Choose a side that is at the edge of the page.",
    ),
    # lengths
    "no unit": (
        one_page("panels = 1\ngutter = 3"),
        f'pages[1].gutter: got 3. Allowed: a length needs its unit, as in "3 mm" {UNITS}.',
    ),
    "no unit in quotes": (
        one_page('panels = 1\ngutter = "3"'),
        f"pages[1].gutter: got '3'. Allowed: {NO_LENGTH}.",
    ),
    "strange unit": (
        book('format.border = "3 ell"'),
        "format: border: got '3 ell'. "
        'Allowed: "ell" is no unit known here; use mm, cm, in, pt or px.',
    ),
    "negative": (
        book('format.bleed = { top = "-1 mm" }'),
        "format: bleed.top: got '-1 mm'. Allowed: a length of 0 or more.",
    ),
    "negative width": (
        one_page('tiers = [{ widths = ["-2 mm", 1] }]'),
        "pages[1].tiers[1].widths[1]: got '-2 mm'. Allowed: a length above 0.",
    ),
    "absurd weight": (
        one_page("tiers = [{ widths = [1, 1e300] }]"),
        "pages[1].tiers[1].widths[2]: got 1e+300. Allowed: a weight above 0 and at most a million.",
    ),
    "percentage above 100": (
        one_page('tiers = [{ widths = ["130 %", 1] }]'),
        "pages[1].tiers[1].widths[1]: got '130 %'. Allowed: a percentage above 0 and at most 100.",
    ),
    # what does not fit
    "safe area larger than the trim": (
        book('format.safe_area = "4 in"'),
        "format: does not fit together. "
        "Allowed: safe_area.inside + safe_area.outside smaller than the page's width.",
    ),
    "gutters wider than the frame": (
        one_page('tiers = [3]\ngutter = "4 in"'),
        "pages[1] (page 1), tiers[1]: 3 parts with 2 gutters of 2400 px need at least 4803 px, and "
        "there are 3675 px. Allowed: parts and gutters that fit into 3675 px, each part at least "
        f"1 px. {FIT}",
    ),
    "parts that do not fill": (
        one_page('tiers = [{ widths = ["10 mm", "20 mm"] }]'),
        "pages[1] (page 1), tiers[1]: the parts and their gutters take 821 px of 3675 px. "
        "Allowed: parts that fill the whole. "
        "Give one of them a weight, such as 1, so that it takes the rest.",
    ),
    "panel under 1 px": (
        one_page("columns = [{ panels = 1, width = 10000 }, { panels = 1, width = 1 }]"),
        "pages[1] (page 1), columns: part 2, with a share of 1, would be 0 px of 3675 px. "
        "Allowed: at least 1 px for each panel. Give it a larger share.",
    ),
    "panel under 1 px on a left page": (
        HEAD + SPLASH + "[[pages]]\ntiers = [{ widths = [10000, 1] }]\n",
        "pages[2] (page 2), tiers[1]: part 2, with a share of 1, would be 0 px of 3675 px. "
        "Allowed: at least 1 px for each panel. Give it a larger share.",
    ),
    "shares that do not match": (
        one_page('map = "A B"\nwidths = [1, 2, 3]'),
        "pages[1] (page 1), widths: 3 values where 2 are needed. "
        "Allowed: 2 values, one for each. Add or remove some.",
    ),
    "canvas over the limit": (
        book('format.trim = { width = "300001 px", height = "10 in" }'),
        "format: does not fit together. Allowed: a canvas width of at most 300,000 px at 600 dpi.",
    ),
    # text
    "title of two lines": (
        book("").replace("The Salt Road", "The\\nSalt"),
        "title: got 'The\\nSalt'. Allowed: a name of printable characters, without line breaks.",
    ),
    "endless title": (
        book("").replace("The Salt Road", "x" * 251),
        f"title: got 'xxx{'x' * 75}…. "
        "Allowed: a name of at most 250 characters, and this one has 251.",
    ),
    "no title": (book("").replace('title = "The Salt Road"\n', ""), f"title: {MISSING}"),
}


@pytest.mark.parametrize(("text", "said"), WRONG.values(), ids=WRONG)
def test_wrong_issue(tmp_path: Path, text: str, said: str):
    """The problem is told in one line: where, what came, what is allowed, what to do."""
    assert refused(tmp_path, text) == f"guidekit: issue.toml: {said}\n"
