"""Points that can be dragged: of bends, of free shapes, of the places of a scroll."""

from pathlib import Path

import pytest
from support.planner import HEAD, book_of

from guidekit.errors import InputError
from guidekit.planner.changes import read_change
from guidekit.planner.desk import Desk, text_after
from guidekit.planner.knobs import knobs_of
from guidekit.shipped import shipped

WAVE = 'bend = [["30 %", "4 mm"], ["70 %", "-4 mm"]]'
CORNERS = '[["50 %", "1 in"], ["95 %", "55 %"], ["80 %", "90 %"]]'
FRAME = f"insets = [{{ within = 'frame', points = {CORNERS} }}]"
TURNED = f"insets = [{{ over = [1, 2], tilt = '20 deg', points = {CORNERS} }}]"
SCROLL = 'scroll = [{ height = "0.6 screens" }, { ratio = "2:1", gap = "300 px" }]'
NEAR = 20  # pixels: a thirty-second of an inch at 600 dpi, in which lengths are laid down

#: What a page says, its format, the kind of a point, of what it is, and how far it is dragged.
DRAGGED = [
    ("tiers = [2, 1]", "us-comic", "bend", 0, (0, 200)),
    ("tiers = [2, 1]", "us-comic", "bend", 1, (-90, 0)),
    ('tiers = [2, 1]\nslant = "8 deg"', "us-comic", "bend", 0, (0, -150)),
    ('columns = [1, 2]\nbend = "-4 %"', "us-comic", "bend", 0, (70, 0)),
    ('panels = "two-tiers-arched"', "us-comic", "bend", 0, (0, 60)),
    (f"tiers = [2, 1]\n{WAVE}", "us-comic", "bend", 0, (90, 40)),
    (f"tiers = [2, 1]\n{FRAME}", "us-comic", "corner", 4, (-100, 50)),
    (f"tiers = [2, 1]\n{TURNED}", "us-comic", "corner", 3, (60, -100)),
    (SCROLL, "vertical-scroll", "height", 1, (0, 330)),
    (SCROLL, "vertical-scroll", "height", 2, (0, 160)),
    (SCROLL, "vertical-scroll", "gap", 2, (0, -90)),
]


@pytest.mark.parametrize(("page", "preset", "kind", "of", "by"), DRAGGED)
def test_a_point_lies_where_it_is_dropped(
    page: str, preset: str, kind: str, of: int, by: tuple[int, int]
) -> None:
    """A point that is dragged comes to lie where it was dropped, as near as lengths, tenths of a
    percent and small ratios are, and no other point of its kind has moved along with it.
    """
    before = book_of(f"{HEAD.replace('us-comic', preset)}\n[[pages]]\n{page}\n")
    points = knobs_of(before.sheet(0))
    number = next(n for n, knob in enumerate(points) if (knob.kind, knob.of) == (kind, of))
    to = [x + step for x, step in zip(points[number].at, by, strict=True)]
    change = read_change({"do": "pull", "page": 0, "knob": number, "to": to})
    after = knobs_of(book_of(text_after(before, change)).sheet(0))
    assert [(one.kind, one.of, one.nth) for one in after] == [
        (one.kind, one.of, one.nth) for one in points
    ]
    assert max(abs(a - b) for a, b in zip(after[number].at, to, strict=True)) <= NEAR
    beside = [n for n, one in enumerate(points) if (one.of, one.kind) == (of, kind) and n != number]
    for n in beside:
        assert after[n].at == pytest.approx(points[n].at, abs=1)


def test_points_rest_where_that_says_more() -> None:
    """Near its line a gutter is straight again, and near a gap of the format a gap has its name."""
    bent = book_of(f'{HEAD}\n[[pages]]\ntiers = [1, 1]\nbend = "6 mm"\n')
    (knob,) = knobs_of(bent.sheet(0))
    level = bent.sheet(0).handles[0].middle
    change = {"do": "pull", "page": 0, "knob": 0, "to": (knob.at[0], level + 30), "near": 40}
    assert book_of(text_after(bent, read_change(change))).pages == [{"tiers": [1, 1]}]
    scroll = book_of(f"{HEAD.replace('us-comic', 'vertical-scroll')}\n[[pages]]\n{SCROLL}\n")
    preset = scroll.rules.preset
    assert preset.scroll
    number, gap = next((n, k) for n, k in enumerate(knobs_of(scroll.sheet(0))) if k.kind == "gap")
    px = preset.scroll.gaps.scene.px(preset.dpi) - gap.sizes[0]
    to = gap.at[0], float(gap.at[1] + px + 7)
    change = {"do": "pull", "page": 0, "knob": number, "to": to, "near": 10}
    after = book_of(text_after(scroll, read_change(change)))
    assert after.pages[0]["scroll"][1] == {"ratio": "2:1", "gap": "scene"}


def test_what_cannot_be_is_told(tmp_path: Path) -> None:
    """A point of a bend that would pass the next is refused, and so is one that is not there."""
    path = tmp_path / "kettle-moth.toml"
    path.write_text(f"{HEAD}\n[[pages]]\ncolumns = [1, 1]\n{WAVE}\n", "utf-8")
    desk = Desk(path, shipped())
    first, second = knobs_of(desk.book.sheet(0))
    beyond = second.at[0], second.at[1] + 200
    for number, told in ((0, "do not go on along its line"), (2, "no such point")):
        change = read_change({"do": "pull", "page": 0, "knob": number, "to": beyond})
        with pytest.raises(InputError, match=told):
            desk.change(change, desk.book.version)
    assert first.at[1] < second.at[1]
    assert path.read_text("utf-8").endswith(f"{WAVE}\n")
