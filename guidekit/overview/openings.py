"""Pages as they face each other in the open book, each with what is known of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.issue.folding import behind_a_turn, reader_spreads
from guidekit.plane.box import Box
from guidekit.plane.polygon import Points


@dataclass(frozen=True)
class View:
    """A canvas of the issue: its plan, what became of its file, a picture of what is drawn on it.

    `state` is empty where no folder was looked at, `thumbnail` a JPEG of what is `seen`, or None.
    `cautions` are those of this canvas. `turned` says that one must turn a leaf to see it, `turns`
    that one turns a leaf after it.
    """

    plan: PagePlan
    state: str = ""
    thumbnail: bytes | None = None
    cautions: tuple[str, ...] = ()
    turned: bool = False
    turns: bool = False

    @property
    def seen(self) -> Box:
        """What is shown of it: the bleed too, but nothing beyond a fold it has with another."""
        bleed, trim, side = self.plan.boxes.bleed, self.plan.boxes.trim, self.plan.side
        left = trim.left if side == "right" else bleed.left
        right = trim.right if side == "left" else bleed.right
        return Box(left, bleed.top, right, bleed.bottom)

    @property
    def corner(self) -> Points:
        """The lower outer corner of a page that is turned, folded in; no points of any other."""
        if not self.turns:
            return ()
        trim, at = self.plan.boxes.trim, self.plan.boxes.pages[0].trim.width // 12
        left = self.plan.book.furniture.right_to_left
        x, inward = (trim.left, at) if left else (trim.right, -at)
        return ((x, trim.bottom - at), (x + inward, trim.bottom - at), (x + inward, trim.bottom))

    @property
    def label(self) -> str:
        """``4``, ``6–7`` of a spread, ``3, part 2``, ``cover``; ``5 (iii)`` with its folio."""
        plan = self.plan
        words = plan.name or "–".join(map(str, plan.numbers))
        printed = "–".join(folio.words for folio in plan.folios)
        words = words if printed in ("", words) else f"{words} ({printed})"
        return words if plan.part is None else f"{words}, part {plan.part}"


@dataclass(frozen=True)
class Opening:
    """What lies open at once, in reading order: a spread or single page, or two facing places.

    Of facing places one may be None: outside the book, or a page that is not there.
    """

    places: tuple[View | None, ...]

    @property
    def views(self) -> tuple[View, ...]:
        """Those that are there."""
        return tuple(view for view in self.places if view)

    @property
    def section(self) -> str:
        """The title of the section that begins here; empty if none does."""
        return next((view.plan.section for view in self.views if view.plan.section), "")


def openings(
    file: LoadedIssue,
    plans: Sequence[PagePlan],
    cautions: Sequence[str] = (),
    states: Mapping[str, str] | None = None,
    thumbnails: Mapping[str, bytes] | None = None,
) -> tuple[Opening, ...]:
    """All canvases of an issue as they face each other.

    `states` and `thumbnails` go by the file names of canvases, without ending.
    """
    found = {
        plan.file_name: View(
            plan,
            (states or {}).get(plan.file_name, ""),
            (thumbnails or {}).get(plan.file_name),
            tuple(said for said in cautions if _is_about(said, plan)),
            turned=_facing(file, plan) and behind_a_turn(plan.numbers[0]),
            turns=_facing(file, plan)
            and plan.numbers[-1] < file.pages
            and behind_a_turn(plan.numbers[-1] + 1),
        )
        for plan in plans
    }
    views = [*found.values()]
    pages = [view for view in views if view.plan.numbers]
    covers = {view.plan.name: view for view in views if view.plan.name}
    if not file.preset.facing:
        return tuple(Opening((view,)) for view in (*pages, *covers.values()))
    return tuple(_bound(file, pages, covers))


def _facing(file: LoadedIssue, plan: PagePlan) -> bool:
    return file.preset.facing and bool(plan.numbers)


def _is_about(caution: str, plan: PagePlan) -> bool:
    """True if a caution begins with the page: ``Page 3 is …``, ``Pages 4-5, 8-9: …``."""
    called = plan.called.capitalize()
    if caution.startswith(called) and not caution[len(called) : len(called) + 1].isalnum():
        return True
    pages = caution.partition(":")[0].removeprefix("Pages ").split(", ")
    return "-".join(map(str, plan.numbers)) in pages


def _bound(file: LoadedIssue, pages: Sequence[View], covers: dict[str, View]) -> Iterator[Opening]:
    """The book from front to back; inside covers face the first and the last page."""
    by_number = {number: view for view in pages for number in view.plan.numbers}
    if "cover" in covers:
        yield Opening((covers["cover"],))
    if "front cover" in covers:
        yield Opening((None, covers["front cover"]))
    for left, right in reader_spreads(file.pages):  # read from left to right whatever the issue is
        first, second = (by_number.get(number or 0) for number in (left, right))
        if first and first is second:
            yield Opening((first,))
            continue
        first = first or covers.get("inside front cover")
        second = second or (covers.get("inside back cover") if left == file.pages else None)
        yield Opening((first, second))
    if "inside back cover" in covers and file.pages % 2:
        yield Opening((covers["inside back cover"], None))
    if "back cover" in covers:
        yield Opening((covers["back cover"], None))
    if "inside cover" in covers:
        yield Opening((covers["inside cover"],))
