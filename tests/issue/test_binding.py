"""Binding: what cannot be is refused, what the printer or the reader would mind is told."""

from typing import Any

import pytest
from support.laid_out_pages import FORMAT, issue, plans, refusal
from support.samples import issue_file

from guidekit import check_issue

SPLASH = {"panels": "splash"}
SCROLL = {"preset": "scroll-1600"}


def told(folder: Any, *pages: dict[str, Any], **keys: Any) -> list[str]:
    """The cautions about the book, without the preset's own."""
    path = issue_file(folder, issue(*pages, **keys))
    return [said for said in check_issue(path).cautions if not said.startswith("Printers")]


@pytest.mark.parametrize(
    ("pages", "said"), [(7, "these are 7. Add 1 page."), (10, "these are 10. Drop 2 pages.")]
)
def test_a_zine_has_eight_pages(pages: int, said: str) -> None:
    """A zine of any other number of pages is refused with how many to add or drop."""
    page = SPLASH | {"count": pages}
    assert refusal(page, binding="zine") == f"binding: a zine has exactly 8 pages, and {said}"
    assert len(plans(issue(SPLASH | {"count": 8}, binding="zine"))) == 8


@pytest.mark.parametrize("kind", ["saddle-stitch", "perfect", "zine"])
def test_bound_pages_face_each_other(kind: str) -> None:
    """A book that opens has facing pages."""
    page = SPLASH | {"count": 8}
    said = refusal(page, binding=kind, format={"facing": False})
    assert said == (
        f"binding: in {kind} binding pages face each other, and this preset has none that do. "
        "Add facing = true under [format], or take loose."
    )


def test_a_scroll_is_a_scroll() -> None:
    """Printed pages are no scroll, and a binding that is none is told with the nearest."""
    assert "for printed pages, which are no scroll" in refusal(SPLASH, binding="scroll")
    assert '"saddle-stitch"' in refusal(SPLASH, binding="saddlestitch")


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"kind": "saddle-stitch", "creep_in_safe_area": True}, "without paper there is no creep"),
        ({"kind": "perfect", "grams": 90, "creep_in_safe_area": True}, "no creep in perfect"),
        ({"kind": "perfect", "caliper": "0.1 mm", "grams": 90}, "caliper and grams are both here"),
        ({"kind": "perfect", "grams": 0}, "0 is not such a number"),
        ({"kind": "perfect", "bulk": "thick"}, "not such a number"),
        ({"caliper": "0.1 mm"}, "kind"),
    ],
)  # fmt: skip
def test_wrong_paper(keys: dict[str, Any], said: str) -> None:
    """Creep without paper or without nested sheets, two weights, numbers that are none."""
    assert said in refusal(SPLASH, binding=keys)


@pytest.mark.parametrize(
    ("kind", "pages", "said"),
    [
        ("saddle-stitch", 22, "these are 22. Drop 2 pages for 20, or add 2 pages for 24"),
        ("saddle-stitch", 3, "a multiple of 4, and these are 3. Add 1 page for 4"),
        ("perfect", 7, "a multiple of 2, and these are 7. Drop 1 page for 6, or add 1 page for 8"),
        ("saddle-stitch", 24, None),
        ("perfect", 22, None),
        ("loose", 7, None),
    ],
)  # fmt: skip
def test_page_counts(tmp_path: Any, kind: str, pages: int, said: str | None) -> None:
    """A count that sheets do not give is told with how many pages to add or to drop."""
    found = told(tmp_path, SPLASH | {"count": pages}, binding=kind)
    assert [said for said in found if "multiple" in said] == found
    assert len(found) == (said is not None)
    if said:
        assert said in found[0]


def test_spreads_of_a_stapled_book(tmp_path: Any) -> None:
    """The spread in the middle is named as one piece of paper, the others as two sheets."""
    pages: list[dict[str, Any]] = [SPLASH, SPLASH | {"spread": True, "count": 3}, SPLASH]
    first, second = told(tmp_path, *pages, binding="saddle-stitch", format={"fold_strip": "9 mm"})
    assert first.startswith("Pages 4 and 5 lie in the middle of the innermost sheet")
    assert second.startswith("Pages 2-3, 6-7: the two halves are on different sheets")
    assert "counts 9 mm as lost" in second


def test_spreads_of_other_books(tmp_path: Any) -> None:
    """Loose halves lose nothing in a fold; those of a glued book do, as much as the preset says."""
    pages: list[dict[str, Any]] = [SPLASH, SPLASH | {"spread": True}, SPLASH]
    fold = {"fold_strip": "9 mm"}
    (loose,) = told(tmp_path, *pages, binding="loose", format=fold)
    assert loose == "Pages 2 and 3: the two halves are loose sheets, which may lie 1 to 2 mm apart."
    (glued,) = told(tmp_path, *pages, binding="perfect", format=fold)
    assert "swallows what lies in the fold. The preset counts 9 mm as lost in it" in glued


@pytest.mark.parametrize(
    ("page", "said"),
    [(1, "nearest behind a page turn is 2"), (2, None), (3, "turn are 2 and 4"), (5, "4 and 6")],
)  # fmt: skip
def test_reveals(tmp_path: Any, page: int, said: str | None) -> None:
    """A reveal that no turn hides is told with the nearest pages that one does."""
    pages = [SPLASH | {"count": page - 1}] if page > 1 else []
    pages += [SPLASH | {"reveal": True}, SPLASH | {"count": 8 - page}]
    found = told(tmp_path, *pages, binding="saddle-stitch")
    assert len(found) == (said is not None)
    if said:
        assert found[0].startswith(f"Page {page} is to be a reveal")
        assert said in found[0]


def test_creep_is_told_and_never_silent(tmp_path: Any) -> None:
    """Creep is told; safe areas are narrower by it, on the outside, only where that is asked."""
    paper = {"kind": "saddle-stitch", "caliper": "0.508 mm"}  # 2 px at 100 dpi
    page = SPLASH | {"count": 16}
    plain, told_only, taken = (
        plans(issue(page, **keys))
        for keys in ({}, {"binding": paper}, {"binding": paper | {"creep_in_safe_area": True}})
    )
    assert [p.boxes for p in plain] == [p.boxes for p in told_only]
    (said,) = told(tmp_path, page, binding=paper)
    assert (
        "of 4 sheets in each other the innermost, pages 8 and 9, is pushed out by 1.52 mm" in said
    )
    for k in (0, 2, 4, 6, 9, 15):  # page k + 1
        sheet = min(k, 15 - k) // 2
        before, after = plain[k].boxes.safe_area, taken[k].boxes.safe_area
        narrower = (after.left - before.left, before.right - after.right)
        assert narrower == ((0, 2 * sheet) if plain[k].side == "right" else (2 * sheet, 0))
        assert (before.top, before.bottom) == (after.top, after.bottom)


def test_too_much_creep() -> None:
    """A creep that leaves nothing of the innermost safe area is refused."""
    paper = {"kind": "saddle-stitch", "caliper": "5 mm", "creep_in_safe_area": True}
    said = refusal(SPLASH | {"count": 200}, binding=paper)
    assert "creep of 245 mm leaves nothing of the safe area. Take thinner paper" in said


def test_grams_are_an_estimate() -> None:
    """A caliper from grams: 80 g/m² at a bulk of 1.25 cm³/g are 0.1 mm (ISO 534: bulk)."""
    by_grams = plans(issue(SPLASH | {"count": 16}, binding={"kind": "saddle-stitch", "grams": 80}))
    measured = plans(
        issue(SPLASH | {"count": 16}, binding={"kind": "saddle-stitch", "caliper": "0.1 mm"})
    )
    assert [p.creep for p in by_grams] == [p.creep for p in measured]
    assert max(p.creep for p in measured) == 3 * measured[2].creep > 0


@pytest.mark.parametrize("kind", ["blank", "ad", "credits"])
def test_pages_to_fill_with(kind: str) -> None:
    """Such a page needs no panels, has its place in the order and draws no border."""
    first, bare = plans(issue(SPLASH, {"kind": kind}))
    assert (bare.numbers, bare.kind, bare.panels, bare.frames) == ((2,), kind, (), ())
    assert bare.boxes.canvas == first.boxes.canvas
    assert FORMAT["dpi"] == bare.book.dpi
    assert "no panels are on this page" in refusal(SPLASH, {"note": "Nothing"})
    assert "a blank page has no panels" in refusal({"kind": "blank", "panels": "splash"})
