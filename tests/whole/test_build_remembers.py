"""Builds with a memory: the same bytes, work in proportion to the page, nothing left behind."""

import gc
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.books_under_test import BARE, COMIC, MANUSCRIPT
from support.catalogue import FORMATS, stack_of, writer_called
from support.long import shortened
from support.samples import DPI, HEAD, issue_file

from guidekit import build_issue, load_issue
from guidekit.geometry.plan import plan_issue
from guidekit.raster.bands import Bands
from guidekit.raster.fill import fill_boxes

GROUPS = HEAD + '[format]\npanel_groups = ["Inks", "Colours"]\n'


@pytest.fixture
def counted() -> Iterator[None]:
    """What there is already does not count, and is not looked through, which would take long."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()


def bands_alive() -> int:
    """How many pictures this process holds that have been made in this test."""
    gc.collect()
    return sum(isinstance(thing, Bands) for thing in gc.get_objects())


@pytest.mark.parametrize(
    "book", shortened([COMIC, MANUSCRIPT, BARE], [BARE]), ids=["comic", "manuscript", "bare"]
)
def test_same_bytes_without_memory(book: str, tmp_path: Path) -> None:
    """Every file is, to the byte, what its writer makes of one page on its own."""
    path = issue_file(tmp_path, book)
    report = build_issue(path, tmp_path / "out", formats=[*FORMATS], dpi=DPI)
    alone = {
        output.name: b"".join(output.pieces)
        for plan in plan_issue(load_issue(path, dpi=DPI))
        for name in FORMATS
        for output in writer_called(name).write(stack_of(plan))
    }
    assert {name: (tmp_path / "out" / name).read_bytes() for name in report.files} == alone


@pytest.mark.parametrize("tiers", shortened([[1], [8] * 7, [10] * 8, [20] * 10], [[1], [8] * 7]))
def test_pages_alike_fill_no_shape_anew(
    tiers: list[int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A third page of a side fills nothing but its own label, however many panels it has."""
    filled: list[int] = []
    pages = [0]

    def counted(*given: Any) -> Any:
        filled.append(pages[0])
        return fill_boxes(*given)

    monkeypatch.setattr("guidekit.raster.shapes.fill_boxes", counted)
    body = f"{GROUPS}[[pages]]\ncount = 6\ntiers = {tiers}\n"
    build_issue(
        issue_file(tmp_path, body),
        tmp_path / "out",
        dpi=100,
        progress=lambda done, total: pages.__setitem__(0, done),
    )
    assert [filled.count(page) for page in range(2, 6)] == [1] * 4
    assert filled.count(0) > sum(tiers)


@pytest.mark.usefixtures("counted")
def test_memory_does_not_grow_with_pages(tmp_path: Path) -> None:
    """Of pages that all differ, no more is held at the last than at the fourth."""
    widths = "\n".join(f"[[pages]]\ntiers = [{{ widths = [{n}, 9] }}, 2]" for n in range(1, 25))
    alive: list[int] = []
    build_issue(
        issue_file(tmp_path, HEAD + widths),
        tmp_path / "out",
        dpi=DPI,
        layers=["Guides", "Panel borders", "Paper"],
        progress=lambda done, total: alive.append(bands_alive()),
    )
    assert len(alive) == 25
    assert max(alive[4:]) <= alive[4] + 2  # a strip more or less where lines fall otherwise


@pytest.mark.usefixtures("counted")
def test_nothing_is_held_after_a_build(tmp_path: Path) -> None:
    """After a build not one picture more is there than before, nor after the next."""
    path = issue_file(tmp_path)
    before = bands_alive()
    for number in range(2):
        build_issue(path, tmp_path / f"out-{number}", formats=[*FORMATS], dpi=DPI)
        assert bands_alive() == before
