"""Where a script and an issue have drifted apart: pages, panels, spreads, words without room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.measure import load_issue
from guidekit.plane.outline import points_of
from guidekit.plane.polygon import area
from guidekit.script.reading import read_script, with_panels
from guidekit.script.room import room_for, tight
from guidekit.script.script import Remark, Script, ScriptPage
from guidekit.shipped import FullCatalogue, shipped

COUNTED = ("story", "blank")  # the kinds of pages that scripts count


def compare_issue(
    issue: str | Path, script: str | Path, *, catalogue: FullCatalogue | None = None
) -> tuple[Remark, ...]:
    """Every difference, by the line of the script, then what the script has no line for.

    A script counts neither ads nor credits: its page 1 is the first page of the issue that is of
    another kind. Raises `InputError`, `MachineError`.
    """
    read = read_script(Path(script))
    plans = plan_issue(load_issue(issue, catalogue=catalogue or shipped()))
    return tuple(differences(read, plans))


def differences(script: Script, plans: Sequence[PagePlan]) -> Iterator[Remark]:
    """What differs; remarks on what the issue alone has stand at line 0."""
    counted = [plan for plan in plans if plan.kind in COUNTED and plan.numbers]
    by_number: dict[int, PagePlan] = {}
    for plan in counted:
        for _ in plan.numbers if plan.part in (None, 1) else ():
            by_number[len(by_number) + 1] = plan
    taken: set[int] = set()
    for page in map(with_panels, script.pages):
        taken |= {page.number, page.last}
        if page.number in by_number:
            plan = by_number[page.number]
            taken |= {n for n in (page.number, page.number + 1) if by_number.get(n) is plan}
            yield from _of_page(page, plan)
        else:
            yield Remark(page.line, f"{page.called} is not in the issue")
    left = [n for n in sorted(by_number.keys() - taken) if by_number[n].kind == "story"]
    if left:
        first, last = by_number[left[0]].numbers[0], by_number[left[-1]].numbers[-1]
        which = (
            f"page {first} is" if first == last else f"{len(left)} of pages {first} to {last} are"
        )
        yield Remark(None, f"{which} in the issue and not in the script")


def _of_page(page: ScriptPage, plan: PagePlan) -> Iterator[Remark]:
    here = "" if plan.numbers[0] == page.number else f", {plan.called} of the issue"
    if page.spread != (len(plan.numbers) > 1):
        has, other = ("the script", "the issue") if page.spread else ("the issue", "the script")
        yield Remark(page.line, f"{page.called}{here}: a spread in {has}, and none in {other}")
        return
    if (asked := len(page.panels)) != (there := len(plan.panels)):
        panels = f"{asked} panel{'' if asked == 1 else 's'} in the script"
        yield Remark(page.line, f"{page.called}{here}: {panels}, {there} in the issue")
        return
    whole = sum(safe.width * safe.height for safe in plan.safe_areas) / len(plan.numbers)
    for panel, box in zip(page.panels, plan.panels, strict=True):
        share = abs(area(points_of(box.sharp))) / whole
        if tight(panel.words, share):
            said = f"{panel.words} words, and there is room for about {room_for(share)}"
            yield Remark(panel.line, f"{page.called}{here}, panel {box.number}: {said}")
