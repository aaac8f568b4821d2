"""Random issues through the whole path: a sentence that refuses them, or files as measured."""

import tempfile
from pathlib import Path
from typing import Any

from hypothesis import event, given
from hypothesis import strategies as st
from psd_tools import PSDImage
from support.catalogue import PRESETS
from support.laid_out_pages import toml
from support.random_pages import joined_maps, letter_maps, plain_pages
from support.samples import issue_file

from guidekit import InputError, build_issue, measure_issue

PAPER = [name for name in PRESETS if "scroll" not in name]


def text_of(issue: dict[str, Any]) -> str:
    """An issue's file; its pages as one list of tables."""
    return "".join(f"{key} = {toml(value)}\n" for key, value in issue.items())


lengths = st.one_of(
    st.integers(0, 4).map("{} px".format),
    st.integers(0, 50).map(lambda tenths: f"{tenths / 10:.1f} mm"),
    st.integers(1, 40).map("1/{} in".format),
)
sizes = st.integers(1, 400).map("{} px".format) | st.integers(50, 300).map("{} mm".format)
edges = lengths | st.fixed_dictionaries(
    {}, optional=dict.fromkeys(("top", "bottom", "inside", "outside"), lengths)
)
gutters = lengths | st.fixed_dictionaries({"across": lengths, "down": lengths})
letters = st.characters(exclude_categories=["C", "Z"]) | st.just(" ")
words = st.text(letters, min_size=1, max_size=12).filter(str.strip)
weights = st.integers(1, 9) | st.floats(0.5, 9)
shares = st.one_of(weights, weights, lengths, st.integers(1, 60).map("{} %".format))
formats = st.fixed_dictionaries(
    {},
    optional={
        "trim": st.fixed_dictionaries({"width": sizes, "height": sizes}),
        "bleed": edges,
        "safe_area": edges,
        "gutter": gutters,
        "border": lengths,
        "facing": st.booleans(),
        "direction": st.sampled_from(["ltr", "rtl"]),
        "colour": st.sampled_from(["rgb", "grey"]),
        "spare_pixels": st.sampled_from(["shared", "margin"]),
        "gutter_cover": st.booleans(),
        "paper": st.sampled_from(["#ffffff", "#F0E9d2"]),
        "drawing": st.lists(words, min_size=1, max_size=4),
        "lettering": st.fixed_dictionaries({}, optional={"capitals": lengths, "space": lengths}),
    },
)
bends = st.sampled_from(["3 mm", "-12 %", [["30 %", "4 mm"], ["60 %", "-9 %"]]])
leans = st.sampled_from(["corner", "-corner", "9 deg", "-2 mm"])
parts = st.recursive(
    st.integers(1, 3)
    | st.sampled_from(["six-grid", "splash"])
    | st.builds(lambda x: {"map": x}, letter_maps() | joined_maps())
    | st.sampled_from([{"triangles": "both"}, {"triangles": "rising"}, {"empty": True}])
    | st.builds(lambda x, y: {"panels": 3, x: y}, st.just("bend"), bends)
    | st.builds(lambda x: {"columns": [1, 1, 1], "slants": x}, st.lists(leans, max_size=2))
    | st.builds(lambda x: {"widths": [1, *x]}, st.lists(shares, max_size=2)),
    lambda inner: st.one_of(
        st.builds(lambda x: {"tiers": x}, st.lists(inner, min_size=1, max_size=3)),
        st.builds(lambda x: {"columns": x}, st.lists(inner, min_size=1, max_size=3)),
        st.builds(lambda x, y: {"panels": x, "height": y}, st.integers(1, 3), weights),
    ),
    max_leaves=6,
)
panels_of_pages = st.one_of(
    plain_pages,
    st.builds(lambda x: {"tiers": x}, st.lists(parts, min_size=1, max_size=3)),
    st.builds(lambda x: {"columns": x}, st.lists(parts, min_size=1, max_size=3)),
    st.sampled_from([{"panels": 1}, {"panels": "nine-grid"}]),
)
sides = st.just("all") | st.lists(st.sampled_from(["top", "outside"]), max_size=1)
extras = st.fixed_dictionaries(
    {},
    optional={
        "note": words,
        "gutter": gutters,
        "safe_area": edges,
        "paper": st.sampled_from(["#101010", "#ffee00"]),
        "borders": st.booleans() | lengths,
        "bleed": st.just("all") | st.lists(st.sampled_from(["left", "bottom"]), max_size=2),
        "on_left": st.sampled_from([{"bend": "4 mm"}, {"panels": "stairs-of-four"}, {"note": "x"}]),
        "panel": st.dictionaries(
            st.sampled_from(["1", "1", "A"]), st.builds(lambda x: {"bleed": x}, sides), max_size=1
        ),
    },
)
numbers = st.sampled_from([{"count": 2}, {"count": 2}, {"spread": True}, {}])
issues = st.fixed_dictionaries(
    {
        "title": words,
        "preset": st.sampled_from(PAPER),
        "format": formats,
        "pages": st.lists(
            st.builds(
                lambda *tables: {k: v for t in tables for k, v in t.items()},
                panels_of_pages,
                extras,
                numbers,
            ),
            max_size=2,
        ).map(lambda pages: [{"panels": 1}, *pages]),
    },
    optional={
        "number": st.integers(0, 200),
        "direction": st.sampled_from(["ltr", "rtl"]),
        "file_name": words,
    },
)


def whole_path(issue: dict[str, Any], dpi: int, formats: list[str]) -> None:
    """Build, read back with an independent reader, build again; or be refused with a sentence."""
    with tempfile.TemporaryDirectory() as folder:
        path, out = issue_file(Path(folder), text_of(issue)), Path(folder) / "out"
        try:
            report = build_issue(path, out, formats=formats, dpi=dpi)
        except InputError as error:
            event("refused")
            told, report = error.problems, None
        if report is None:
            assert told
            lines = path.read_text("utf-8").count("\n")
            for problem in told:
                assert problem.came
                assert problem.allowed or problem.todo
                assert problem.file
                assert problem.line is None or 1 <= problem.line <= lines
                assert problem.line or not problem.key or "missing" in problem.came
            assert not out.exists()
            return
        event("built")
        measured = measure_issue(path, dpi=dpi)["pages"]
        assert [name for name in report.files if name.endswith(".psd")] == [
            f"{page['file_name']}.psd" for page in measured
        ]
        for page in measured:
            opened = PSDImage.open(out / f"{page['file_name']}.psd")
            assert list(opened.size) == page["canvas"]
            assert [layer.name for layer in opened][-1] == "Guides"
            width, height = page["canvas"]
            for panel in page["panels"]:
                a, b, c, d = panel["box"]
                assert 0 <= a < c <= width
                assert 0 <= b < d <= height
        again = build_issue(path, out, formats=formats, dpi=dpi)
        assert set(again.files.values()) == {"unchanged"}


@given(issues, st.integers(5, 60))
def test_any_issue(issue: dict[str, Any], dpi: int) -> None:
    """Any issue of known keys is built as measured, or refused by `InputError`, never otherwise."""
    whole_path(issue, dpi, ["psd"])


@given(plain_pages, st.sampled_from(PAPER), st.integers(20, 60), words)
def test_any_plain_page(page: dict[str, Any], preset: str, dpi: int, note: str) -> None:
    """Tiers, columns and letter maps on a shipped preset come out in all formats as measured."""
    issue = {"title": "Plain", "preset": preset, "pages": [page, page | {"note": note}]}
    whole_path(issue, dpi, ["psd", "png", "png-layers"])


values = st.recursive(
    st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | words
    | lengths,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=3),
    max_leaves=6,
)


@given(issues, st.data())
def test_any_value_in_any_place(issue: dict[str, Any], data: st.DataObject) -> None:
    """Whatever value stands in whatever place of an issue, no other exception comes up."""
    place: Any = issue
    while True:
        keys = list(place) if isinstance(place, dict) else list(range(len(place)))
        if not keys:
            break
        key = data.draw(st.sampled_from(keys))
        if not isinstance(place[key], (dict, list)) or data.draw(st.booleans()):
            place[key] = data.draw(values)
            break
        place = place[key]
    whole_path(issue, 20, ["psd"])
