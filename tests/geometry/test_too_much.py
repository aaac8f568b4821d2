"""Layouts beyond all measure: laid out or refused with a sentence, quickly, and nothing else."""

from collections.abc import Iterator
from time import process_time
from typing import Any

import pytest
from support.laid_out_pages import boxes, issue, page, plans, refusal

from guidekit.errors import InputError
from guidekit.geometry import plan as planning

SPLASH = {"panels": "splash"}
QUICK = 5  # seconds of the processor, however large the layout; most take a hundredth


@pytest.fixture(autouse=True)
def _quick() -> Iterator[None]:
    begun = process_time()
    yield
    assert process_time() - begun < QUICK


def deep(depth: int) -> str:
    """The text of an issue with tables so deep; `toml` would itself go too deep for it."""
    opened = "".join("{ tiers = [" if i % 2 else "{ columns = [" for i in range(depth - 1))
    closed = "] }" * (depth - 1)
    return issue() + f"[[pages]]\ntiers = [{opened}1{closed}]\n"


@pytest.mark.parametrize("depth", [2, 10, 20])
def test_deep_layouts(depth: int) -> None:
    """Lists in each other that deep are laid out, deeper than anybody draws."""
    (plan,) = plans(deep(depth))
    assert boxes(plan) == [[60, 60, 580, 780]]


@pytest.mark.parametrize("depth", [30, 40, 80, 100, 120, 160, 200, 250, 300, 1000])
def test_depth(depth: int) -> None:
    """Lists that are nested deeper are refused, whoever notices it first."""
    with pytest.raises(InputError, match="nested too deeply"):
        plans(deep(depth))


@pytest.mark.parametrize("depth", [30, 100, 200, 300, 600])
def test_depth_by_headings(depth: int) -> None:
    """Tables nested by headings, which a reader of TOML allows at any depth, are refused too."""
    lines, name = [issue(), "[[pages]]"], "pages"
    for level in range(depth):
        name += ".columns" if level % 2 else ".tiers"
        lines.append(f"[[{name}]]")
    lines.append("panels = 1")
    with pytest.raises(InputError, match="nested too deeply"):
        plans("\n".join(lines))


@pytest.mark.parametrize("key", ["format", "guides", "pages", "layouts"])
def test_depth_of_other_tables(key: str) -> None:
    """A thousand tables in each other are refused wherever they stand."""
    dotted = ".".join(["a"] * 1000)
    text = (
        issue(SPLASH) + f"{dotted} = 1\n"
        if key == "pages"
        else f"{key}.{dotted} = 1\n" + issue(SPLASH)
    )
    with pytest.raises(InputError) as caught:
        plans(text.replace("format = {", "unused = {") if key == "format" else text)
    assert "line" in str(caught.value)
    assert "nested too deeply" in str(caught.value)


MANY = {
    "in one tier": {"tiers": [{"panels": 10_000}]},
    "in a hundred tiers": {"tiers": [100] * 100},
    "in ten thousand tiers": {"tiers": [1] * 10_000},
    "in columns of tiers": {"columns": [{"tiers": [10] * 100}] * 10},
    "in a map": {
        "map": "\n".join(
            " ".join(chr(0x4E00 + 100 * y + x) for x in range(100)) for y in range(100)
        )
    },
    "in a layout of layouts": {"panels": "five"},
}  # fmt: skip
TENFOLD = {
    name: {"tiers": [below] * 10}
    for name, below in {"five": "four", "four": "three", "three": "two", "two": "one"}.items()
} | {"one": {"tiers": [1] * 10}}  # fmt: skip


@pytest.mark.parametrize("layout", MANY.values(), ids=MANY)
def test_ten_thousand_panels(layout: dict[str, Any]) -> None:
    """Ten thousand panels on a page are refused with the limit, however they are written."""
    large = {"trim": {"width": "20000 px", "height": "20000 px"}, "gutter": "0 px"}
    text = refusal(SPLASH, layout, format=large, layouts=TENFOLD)
    assert text.startswith(("page 2, pages[2]", "page 2, layouts.one", "pages[2]"))
    assert "1000" in text or "1,000" in text


def test_a_thousand_panels_are_allowed() -> None:
    """The largest number of panels is laid out, each with a pixel at least."""
    plan = page({"tiers": [40] * 25}, format={"gutter": "2 px"})
    assert len(boxes(plan)) == 1000


def test_pages_count_by_themselves(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page takes as long as four panels beside its own, and pages alike are counted once."""
    monkeypatch.setattr(planning, "LARGEST", 8 * planning.PAGE)
    assert len(plans(issue(SPLASH | {"count": 40}))) == 40
    unlike = [SPLASH | {"gutter": f"{n} px"} for n in range(1, 10)]
    with pytest.raises(InputError, match="take as much work as"):
        plans(issue(*unlike))
