"""Issues that show all that the planner can show."""

from support.planner import SMALL_HEAD

#: Pages of every kind, and what an issue can say of the whole book.
ISSUE = """\
title = "The Kettle Moth and the Long Stairs"
number = 3
preset = "us-comic"
binding = { kind = "perfect", caliper = "0.1 mm" }
cover = { wrap = false, inside = true, barcode = true }
folios = { place = "outside" }
format = { dpi = 72, gutter = "4 mm" }
guides = { thirds = "shown" }

[[pages]]
panels = "splash"
panel.1.bleed = "all"
note = "Steam over the harbour"
section = "The stairs"

[[pages]]
tiers = [2, 3, 1]
reveal = true
insets = [{ over = 6, width = "30 %", height = "40 %", corner = "top-right" }]

[[pages]]
tiers = [2, { panels = 2, slant = "12 deg" }, { panels = 2, bend = "4 mm" }]

[[pages]]
spread = true
tiers = [1, 3]

[[pages]]
map = '''
A A B
A B B
C C C
'''
panel.C.border = false

[[pages]]
tiers = [{ triangles = "both" }, 2]

[[pages]]
panels = "six-grid"
insets = [
  { within = "frame", width = "40 %", height = "20 %", at = ["10 %", "30 %"], tilt = "12 deg" },
  { within = "trim", points = [["50 %", "60 %"], ["95 %", "55 %"], ["80 %", "90 %"]] },
]

[[pages]]
count = 3
tiers = [1, 1]
on_left = { tiers = [3, 1] }
section = { title = "Afterwards", numbers = "roman" }

[[pages]]
kind = "ad"
"""

SCROLL = """\
title = "Kettle Moth, scrolled"
preset = "vertical-scroll"

[[pages]]
scroll = [{ height = "0.6 screens" }, { ratio = "2:1", full = true, gap = "300 px" }]
"""

LONG = """\
title = "The Kettle Moth, the Long Stairs, and What the Lamplighter's Third Daughter Found There"
number = 12
preset = "us-comic"

[[pages]]
count = 200
tiers = [2, 3, 1]
note = "A corridor with more doors than anybody could ever remember having opened"
"""

RIGHT_TO_LEFT = """\
title = "فراشة الإبريق"
preset = "jis-b5"
direction = "rtl"

[[pages]]
panels = "splash"
note = "على الدرج الطويل"
section = "الدرج"

[[pages]]
count = 4
tiers = [2, 1, 3]
"""

SMALL = f"""\
{SMALL_HEAD}
[[pages]]
tiers = [2, 3, 1]
"""

ONE = 'title = "Moth"\npreset = "square"\n\n[[pages]]\npanels = "splash"\n'

ISSUES = {"scroll": SCROLL, "long": LONG, "right to left": RIGHT_TO_LEFT, "one": ONE}
