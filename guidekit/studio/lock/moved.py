"""What has moved on since an issue was locked, and how many pages that would change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from guidekit.errors import InputError, MachineError, shown
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue.series import shared
from guidekit.measure import load_issue
from guidekit.plugins.installed import Plugin, plain
from guidekit.preset import find_preset
from guidekit.shipped import FullCatalogue
from guidekit.studio.difference import layout_differences, preset_differences
from guidekit.studio.lock.model import FromPlugin, Lock
from guidekit.studio.lock.used import Used, used_by
from guidekit.toml.file import named_toml
from guidekit.wording import call

MOST_TOLD = 12  # differences of one preset


def moved_on(
    issue: Path, lock: Lock, held: FullCatalogue, now: FullCatalogue, plugins: Sequence[Plugin]
) -> Iterator[str]:
    """Sentences on what is another thing `now` than in the lock; the lock counts all the same.

    `held` is what there is `now` with the lock before it.
    """
    used = used_by(issue, held)
    missing = [
        *(f"preset {shown(x)}" for x in (used.issue.preset_name,) if x not in lock.presets),
        *(f"layout {shown(x)}" for x in used.layouts if x not in lock.layouts),
        *(f"series {shown(x)}" for x in used.series if x not in lock.series),
        *(f"font {shown(x)}" for x in used.fonts if x not in lock.fonts),
        *(f"guide {shown(x)}" for x in used.guides if x not in lock.guides),
    ]
    if missing:
        todo = call("lock_issue", issue.name)
        yield f"Not locked: {', '.join(missing)}. To lock what is new: {todo}"
    moved = [*_presets(issue, lock, held, now), *_layouts(lock, now), *_series(issue, lock)]
    if moved:
        moved.append(_pages(used, now))
    yield from moved
    yield from _fonts(used, lock)
    yield from _plugins({**lock.guides, **lock.formats}, plugins)


def _presets(issue: Path, lock: Lock, held: FullCatalogue, now: FullCatalogue) -> Iterator[str]:
    for name, one in lock.presets.items():
        try:
            source = find_preset(name, now, issue.parent)
        except (InputError, MachineError):
            continue  # an issue with its lock needs no preset elsewhere
        if source.plain == one.values:
            continue
        try:
            new = source.preset
            old = find_preset(name, held, issue.parent).preset
            told = [*preset_differences(old, new)]
        except InputError as error:
            told = [str(error)]
        yield from _told(f"The preset {shown(name)}", told)


def _layouts(lock: Lock, now: FullCatalogue) -> Iterator[str]:
    for name, one in lock.layouts.items():
        if name in now.layouts:
            new = {**now.layouts.entry(name).written}
            yield from _told(f"The layout {shown(name)}", [*layout_differences(one.values, new)])


def _series(issue: Path, lock: Lock) -> Iterator[str]:
    for name, one in lock.series.items():
        try:
            file = named_toml(issue.parent / name)
        except (InputError, MachineError):
            continue  # it is not needed either
        if file:
            told = [*layout_differences(one.values, shared(file))]
            yield from _told(f"The series {shown(name)}", told)


def _fonts(used: Used, lock: Lock) -> Iterator[str]:
    for name, font in used.fonts.items():
        if name in lock.fonts and font.sha256 != lock.fonts[name].sha256:
            yield (
                f"The font {shown(name)} is another one here than in the lock: letters may differ. "
                f"Put {lock.fonts[name].file} as it was beside the issue."
            )


def _told(what: str, differences: list[str]) -> Iterator[str]:
    """Nothing where other words say the same."""
    if differences:
        more = len(differences) - MOST_TOLD
        listed = "; ".join(differences[:MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
        yield f"{what} has moved on: {listed}. The locked one is used."


def _pages(used: Used, now: FullCatalogue) -> str:
    """How many pages would change."""
    issue = used.issue.path
    try:
        after = _digests(plan_issue(load_issue(issue, catalogue=now)))
    except (InputError, MachineError) as error:
        told = error.problems[0] if isinstance(error, InputError) else error
        return f"With what is there now the issue could not be built: {told}"
    before = _digests(used.plans)
    changed = {page for page in {*before, *after} if before.get(page) != after.get(page)}
    count = f"{len(changed)} of {len({*before, *after})} pages" if changed else "No page"
    todo = call("lock_issue", str(issue), update=True)
    return f"{count} would change with it; to move on: {todo}"


def _digests(plans: Sequence[PagePlan]) -> dict[int, tuple[str, ...]]:
    """What each page's canvases are made of, by page number."""
    digests, found = PlanDigests(), dict[int, tuple[str, ...]]()
    for plan in plans:
        for number in plan.numbers:
            found[number] = (*found.get(number, ()), digests.of(plan))
    return found


def _plugins(named: dict[str, FromPlugin], plugins: Sequence[Plugin]) -> Iterator[str]:
    here = {plain(plugin.name): plugin.version for plugin in plugins}
    for one in {source.plugin: source for source in named.values()}.values():
        version = here.get(plain(one.plugin))
        if version and version != one.version:
            yield (
                f"The plug-in {one.plugin} is {version} here and {one.version} in the lock: "
                "what it draws and writes may differ."
            )
