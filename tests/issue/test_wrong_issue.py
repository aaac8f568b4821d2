"""Wrong issues: one clear message for each problem, exit code 2, and nothing is written."""

from pathlib import Path

import pytest
from support.catalogue import PRESETS
from support.samples import HEAD, SPLASH, one_page, refused

from guidekit.errors import one_of
from guidekit.issue.models.issue import Issue

ANY_PRESET = f"{one_of(PRESETS)}, or the path of a .toml file"
FIT = "Take fewer or smaller parts, or a narrower gutter."
ISSUE_KEYS = one_of(Issue.model_fields)
OTHER_UNITS = '"{} mm", or another unit: cm, in, pt or px.'
THIN = "part 2, with a share of 1, would be 0 px of 3675 px. Give it a larger share: at least 1 px \
for each panel."
NAME = "Write a name of 1 to 250 characters, on one line."


def book(text: str) -> str:
    """An issue of one splash page with these keys in its head."""
    return f"{HEAD}{text}\n{SPLASH}"


WRONG = {
    # unknown keys and names
    "unknown key": (
        book('titel = "x"'),
        'line 4, titel: there is no such key. Did you mean "title"?',
    ),
    "unknown key like no other": (
        book('zzz = "x"'),
        f"line 4, zzz: there is no such key. Write {ISSUE_KEYS}.",
    ),
    "unknown key of a page": (
        one_page("panels = 1\ntierz = [1]"),
        'line 6, pages[1].tierz: there is no such key. Did you mean "tiers"?',
    ),
    "unknown key of the format": (
        book('format.gutters = "3 mm"'),
        'line 4, format.gutters: there is no such key. Did you mean "gutter"?',
    ),
    "unknown key of a panel": (
        one_page('panels = 1\npanel.1.blead = "all"'),
        'line 6, pages[1].panel.1.blead: there is no such key. Did you mean "bleed"?',
    ),
    "key of the format at the top": (
        book('bleed = "3 mm"'),
        "line 4, bleed: this key does not belong here. "
        "Write bleed under [format], or format.bleed.",
    ),
    "old key of the format at the top": (
        book('safe = "3 mm"'),
        "line 4, safe: this key does not belong here. Write safe_area under [format].",
    ),
    "key of the format on a page": (
        one_page("panels = 1\ndpi = 300"),
        "line 6, pages[1].dpi: this key does not belong here. "
        "Write dpi under [format], or format.dpi.",
    ),
    "key of the issue on a page": (
        one_page('panels = 1\nbinding = "perfect"'),
        "line 6, pages[1].binding: this key does not belong here. "
        "Write binding at the top of the file, above all headings in brackets.",
    ),
    "key of a page at the top": (
        book("tiers = [2, 3]"),
        "line 4, tiers: this key does not belong here. Write tiers under [[pages]].",
    ),
    "a colour as in American": (
        f'{HEAD}[format]\ndpi = 300\ncolor = "black"\n{SPLASH}',
        'line 6, format.color: "black" is not "rgb" or "grey".',
    ),
    "unknown preset": (
        book("").replace("us-comic", "us-comik"),
        'line 3, preset: there is no preset "us-comik". Did you mean "us-comic"?',
    ),
    "unknown preset like no other": (
        book("").replace("us-comic", "zzz"),
        f'line 3, preset: there is no preset "zzz". Write {ANY_PRESET}.',
    ),
    "no file of a preset": (
        book("").replace("us-comic", "../mine.toml"),
        'line 3, preset: there is no file "../mine.toml". Write the path of a .toml file.',
    ),
    "unknown layout": (
        one_page('panels = "sixgrid"'),
        'line 5, page 1, pages[1].panels: there is no layout "sixgrid". Did you mean "six-grid"?',
    ),
    "number of panels in quotes": (
        one_page('tiers = [\n  1,\n  "2",\n]'),
        'line 7, page 1, pages[1].tiers[2]: "2" is text, and no layout is called that. '
        "Write 2, without quotes.",
    ),
    "unknown panel": (
        one_page('tiers = [2]\npanel.3.bleed = "all"'),
        'line 6, page 1, pages[1].panel.3: there is no panel "3" on the page. '
        "Write a number from 1 to 2.",
    ),
    "unknown side": (
        one_page('panels = 1\npanel.1.bleed = "middle"'),
        'line 6, pages[1].panel.1.bleed: "middle" does not name sides of a panel. '
        'Write "all", or a list of "bottom", "inside", "left", "outside", "right" or "top".',
    ),
    "side away from the edge": (
        one_page('tiers = [1, 1]\npanel.1.bleed = "bottom"'),
        'line 6, page 1, pages[1].panel.1.bleed: "bottom" is not a side on which this panel lies '
        'at the edge of the page. Write "inside", "outside" or "top".',
    ),
    "unknown guide": (
        one_page('panels = 1\nguides = { thrids = "shown", trim = "on" }'),
        'line 6, pages[1].guides.thrids: there is no guide "thrids". Did you mean "thirds"?\n'
        'issue.toml, line 6, pages[1].guides.trim: "on" is not "hidden", "off" or "shown".',
    ),
    "switch of a guide": (
        one_page("panels = 1\nguides = { thirds = true }"),
        'line 6, pages[1].guides.thirds: true is not "hidden", "off" or "shown". Write "shown".',
    ),
    # a value of the wrong kind is answered with a right one
    "a number for the pages": (
        f"{HEAD}pages = 3",
        "line 4, pages: 3 is not a list. Write [[pages]], and below it tiers = [2, 3, 1].",
    ),
    "one table for the pages": (
        f"{HEAD}[pages]\ntiers = [2]",
        "line 4, pages: { tiers = [2] } is not a list. Write [[pages]], with two brackets.",
    ),
    "a layout for a list of them": (
        f'{HEAD}pages = "splash"',
        'line 4, pages: "splash" is not a list. Write ["splash"], in square brackets.',
    ),
    "a list in quotes": (
        one_page('tiers = "2, 3,1"'),
        'line 5, pages[1].tiers: "2, 3,1" is not a list. Write [2, 3, 1], without quotes.',
    ),
    "a layout in brackets": (
        one_page('panels = ["splash"]'),
        'line 5, pages[1].panels: ["splash"] is not a number of panels. '
        'Write "splash", without brackets.',
    ),
    "a number for the format": (
        book("format = 3"),
        'line 4, format: 3 is not a table. Write { bleed = "5 mm" }.',
    ),
    "a name for the layouts": (
        book('layouts = "lamp"'),
        'line 4, layouts: "lamp" is not a table. Write { lamp = { columns = [1, 3] } }.',
    ),
    "a number for what is said of panels": (
        one_page("panels = 1\npanel = 1"),
        'line 6, pages[1].panel: 1 is not a table. Write { 1 = { bleed = "all" } }.',
    ),
    "a word for a list of names": (
        book("format.panel_groups = true"),
        "line 4, format.panel_groups: true is not a list.",
    ),
    # lengths
    "no unit": (
        one_page("panels = 1\ngutter = 3"),
        f"line 6, pages[1].gutter: 3 has no unit. Write {OTHER_UNITS.format(3)}",
    ),
    "no unit in quotes": (
        one_page('panels = 1\ngutter = "3"'),
        f'line 6, pages[1].gutter: "3" is not a length. Write {OTHER_UNITS.format(3)}',
    ),
    "decimal comma": (
        one_page('panels = 1\ngutter = "0,25 in"'),
        'line 6, pages[1].gutter: "0,25 in" is not a length. Write "0.25 in", with a point.',
    ),
    "mixed number": (
        one_page('panels = 1\ngutter = "1 5/8 in"'),
        'line 6, pages[1].gutter: "1 5/8 in" is not a length. Write "1.625 in".',
    ),
    "strange unit": (
        book('format.border = "3 ell"'),
        'line 4, format.border: "3 ell" has an unknown unit. Write mm, cm, in, pt or px.',
    ),
    "negative": (
        book('format.bleed = { top = "-1 mm" }'),
        'line 4, format.bleed.top: "-1 mm" is less than nothing. Write a length of 0 or more.',
    ),
    "negative width": (
        one_page('tiers = [{ widths = ["-2 mm", 1] }]'),
        'line 5, pages[1].tiers[1].widths[1]: "-2 mm" is nothing or less. Write a length above 0.',
    ),
    "absurd weight": (
        one_page("tiers = [{ widths = [1, 1e300] }]"),
        "line 5, pages[1].tiers[1].widths[2]: 1e+300 is not a weight. "
        "Write a number above 0, up to a million.",
    ),
    "weight in quotes": (
        one_page('tiers = [{ widths = [1, "2"] }]'),
        'line 5, pages[1].tiers[1].widths[2]: "2" is text. Write 2, without quotes.',
    ),
    "percentage above 100": (
        one_page('tiers = [{ widths = ["130 %", 1] }]'),
        'line 5, pages[1].tiers[1].widths[1]: "130 %" is more than the whole. '
        "Write a percentage above 0 and at most 100.",
    ),
    # what does not fit
    "safe area larger than the trim": (
        book('format.safe_area = "4 in"'),
        "line 4, format.safe_area: safe_area inside and outside together are as much as the "
        "page's width, or more. Write less than the width for both together.",
    ),
    "gutters wider than the frame": (
        one_page('tiers = [3]\ngutter = "4 in"'),
        "line 5, page 1, pages[1].tiers[1]: 3 parts with 2 gutters of 2400 px need at least 4803 "
        f"px, and there are 3675 px. {FIT}",
    ),
    "gutters wider than a layout's frame": (
        one_page('panels = "nine-grid"\ngutter = "4 in"'),
        "line 5, page 1, pages[1].panels: in the layout nine-grid, 3 parts with 2 gutters of 2400 "
        f"px need at least 4803 px, and there are 3675 px. {FIT}",
    ),
    "gutters wider than the frame of a layout of its own": (
        one_page('panels = "mine"\ngutter = "4 in"\n[layouts.mine]\nmap = "A B C"'),
        "line 8, page 1, layouts.mine.map: 3 parts with 2 gutters of 2400 px need at least 4803 "
        f"px, and there are 3675 px. {FIT}",
    ),
    "percentages beyond the whole": (
        one_page('tiers = [{ widths = ["60 %", "50 %"] }]'),
        "line 5, page 1, pages[1].tiers[1]: the percentages add up to 110 %: 2 parts with 1 gutter "
        "of 113 px need at least 4156 px, and there are 3675 px. Take smaller percentages, or "
        "weights such as 1 and 2, which leave gutters their room.",
    ),
    "parts that do not fill": (
        one_page('tiers = [{ widths = ["10 mm", "20 mm"] }]'),
        "line 5, page 1, pages[1].tiers[1]: the parts and their gutters take 821 px of 3675 px. "
        "Give one of them a weight, such as 1, so that it takes the rest.",
    ),
    "panel under 1 px": (
        one_page("columns = [{ panels = 1, width = 10000 }, { panels = 1, width = 1 }]"),
        f"line 5, page 1, pages[1].columns: {THIN}",
    ),
    "panel under 1 px on a left page": (
        HEAD + SPLASH + "[[pages]]\ntiers = [{ widths = [10000, 1] }]\n",
        f"line 7, page 2, pages[2].tiers[1]: {THIN}",
    ),
    "shares that do not match": (
        one_page('map = "A B"\nwidths = [1, 2, 3]'),
        "line 6, page 1, pages[1].widths: 3 values where 2 should be. "
        "Write 2 values, one for each.",
    ),
    "canvas over the limit": (
        book('format.trim = { width = "300001 px", height = "10 in" }'),
        "line 4, format.trim.width: the canvas would be 300,151 px in width at 600 dpi. "
        "Take a smaller width or a lower dpi: at most 300,000 px.",
    ),
    # text
    "title of two lines": (
        book("").replace("The Salt Road", "The\\nSalt"),
        f'line 1, title: "The\\nSalt" has characters that cannot be printed. {NAME}',
    ),
    "endless title": (
        book("").replace("The Salt Road", "x" * 251),
        f'line 1, title: "{"x" * 77}…" has 251 characters. {NAME}',
    ),
    "title without quotes": (
        book("").replace('"The Salt Road"', "2"),
        'line 1, title: 2 is not text in quotes. Write "2", in quotes.',
    ),
    "no title": (
        book("").replace('title = "The Salt Road"\n', ""),
        'title: this key is missing. Add title = "The Salt Road".',
    ),
}


@pytest.mark.parametrize(("text", "said"), WRONG.values(), ids=WRONG)
def test_wrong_issue(tmp_path: Path, text: str, said: str) -> None:
    """The problem is told in one line: file, line, page, key, what came, what to do."""
    assert refused(tmp_path, text) == f"guidekit: issue.toml, {said}\n"
