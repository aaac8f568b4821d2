"""Laws of a refresh, on pages drawn on at random and issues changed at random."""

from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given
from hypothesis import strategies as st
from psd_tools.constants import Tag
from support.painting import Page, bytes_of, divider, name_of, paths, pixels
from support.samples import issue_file

from guidekit import build_issue
from guidekit.drawn.refreshing.refresh import refresh_issue

DPI = 20
NAME = "tin-kite-p001.psd"
HEAD = 'title = "Tin Kite"\npreset = "us-comic"\n'
PAGE = '[[pages]]\ntiers = [2, { panels = 2, slant = "8 deg" }]\n'
GROUPED = 'format.panel_groups = ["Inks"]\n'
#: Changes that an issue goes through once drawing has begun.
KEYS = st.lists(
    st.sampled_from([
        'format.gutter = "0.3 in"', 'format.border = "0.1 in"', "format.gutter_cover = true",
        'guides.thirds = "shown"', 'guides.trim = "off"', 'guides.gutters = "hidden"',
        'format.safe_area = "0.6 in"', 'format.bleed = "0.4 in"', 'guides.ruler_guides = "off"',
    ]),
    max_size=3, unique_by=lambda key: key.split(" ")[0],
)  # fmt: skip
#: What happens to a page in a drawing app: each a name, and the number of what it happens to.
STROKES = st.lists(
    st.tuples(
        st.sampled_from(["paint", "paint ours", "new", "move", "rename", "delete", "copy", "drop"]),
        st.integers(0, 60),
    ),
    max_size=6,
)


def happen(page: Page, what: str, number: int) -> None:
    """One thing that an artist or an app does."""
    layers = [i for i, (record, _) in enumerate(page.entries) if not divider(record)]
    place = layers[number % len(layers)]
    record = page.entries[place][0]
    if what == "paint":
        named = [i for i in layers if name_of(page.entries[i][0]).startswith(("Inks", "Pencils"))]
        page.paint((named or layers)[number % len(named or layers)], number)
    elif what == "paint ours" and record.right > record.left:
        page.paint_over(place)
    elif what == "new":
        page.new_layer(f"New {number}", number, place)
    elif what == "move":  # out of the group that it is in, or to the top of the page
        page.entries.append(page.entries.pop(place))
    elif what == "rename":
        record.tagged_blocks.set_data(Tag.UNICODE_LAYER_NAME, f"Renamed {number}")
    elif what == "delete":
        del page.entries[place]
    elif what == "copy":
        page.entries.insert(number % (place + 1), page.entries[place])
    else:
        record.tagged_blocks.pop(Tag.LAYER_ID, None)
        record.tagged_blocks.pop(Tag.SHEET_COLOR_SETTING, None)


@given(KEYS, KEYS, STROKES, st.booleans())
def test_what_is_drawn_stays(
    old: list[str], new: list[str], strokes: list[tuple[str, int]], grouped: bool
) -> None:
    """Each layer that is not exactly as it was written is in the new file, byte for byte.

    The guides are those of a fresh build, and a second refresh finds nothing to do.
    """
    with TemporaryDirectory() as name:
        folder = Path(name)

        def issue(keys: list[str]) -> Path:
            head = HEAD + GROUPED * grouped + "\n".join(keys)
            return issue_file(folder, f"{head}\n{PAGE}")

        build_issue(issue(old), folder / "out", dpi=DPI)
        page = Page.open(folder / "out" / NAME)
        written = {bytes_of(entry) for entry in page.entries}
        looks = Counter(str(pixels(entry, page)) for entry in page.entries)
        for what, number in strokes:
            happen(page, what, number)
        page.new_layer("The last stroke", 0, len(page.entries) - 1)
        page.save(folder / "out" / NAME)
        before = Page.open(folder / "out" / NAME)
        report = refresh_issue(issue(new), folder / "out", dpi=DPI)
        assert report.complete, report
        after = Page.open(folder / "out" / NAME)

        kept = Counter(bytes_of(entry) for entry in after.entries)
        touched = Counter(
            bytes_of(entry)
            for entry in before.entries
            if bytes_of(entry) not in written and str(pixels(entry, before)) not in looks
        )
        assert touched <= kept

        build_issue(issue(new), folder / "fresh", dpi=DPI)
        fresh = Page.open(folder / "fresh" / NAME)
        assert guides(after) == guides(fresh)
        again = refresh_issue(issue(new), folder / "out", dpi=DPI)
        assert {file.outcome for file in again.files} == {"up to date"}


def guides(page: Page) -> list[object]:
    """The pixels of all in the group of guides, the uppermost first; names are the artist's."""
    return [
        pixels(entry, page)
        for path, entry in paths(page)
        if path[0] == "Guides" and not divider(entry[0])
    ]
