"""Whether a drawing fits the page of today, and where; what was once written into it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from guidekit.drawn.ours.first_release import first_wants
from guidekit.drawn.ours.layer_tree import CanvasPlace, leaves
from guidekit.drawn.ours.wants import DrawnFile, Want, wants_in
from guidekit.drawn.standing.alike import likely
from guidekit.drawn.unfit import OtherPageError, UnfitError
from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Stack
from guidekit.layers.prints import prints
from guidekit.wording import parameter

TILE = 64  # pixels: an OpenRaster painter enlarges a canvas to whole tiles when it saves


def wants_of(info: dict[str, Any] | None, stack: Stack) -> list[Want]:
    """The layers as they were written; where nobody tells, as today's page would have them."""
    if info and info.get("layers"):
        return wants_in(info["layers"])
    found = {want.name: replace(want, opacity=None) for want in wants_in(prints(stack))}
    first = first_wants(info["page"], stack) if info else ()
    return [*(found | {want.name: want for want in first}).values()]


def is_drawn_on(drawing: DrawnFile, info: dict[str, Any] | None) -> bool:
    """True if there is more on a layer than was written on any of its name: no need to hash it.

    A layer that was written blank takes a pixel at most.
    """
    if not info or not info.get("layers"):
        return False
    names = {want.name[-1] for want in wants_in(info["layers"])}
    return any(
        leaf.box.width * leaf.box.height > 1 and leaf.name not in names
        for leaf in leaves(drawing.members)
    )


def place_of(info: dict[str, Any] | None, plan: PagePlan) -> CanvasPlace:
    """Where the old canvas lies on today's: the trim stays in place, seen from the fold."""
    canvas = plan.boxes.canvas
    if info is None:
        return CanvasPlace(0, 0, *canvas.size)
    was = info["page"]
    if was.get("dpi", plan.book.dpi) != plan.book.dpi:
        raise UnfitError(
            f"it has {was['dpi']} dpi and the page now {plan.book.dpi}, and drawings are not "
            "enlarged or shrunk",
            f"Build into another folder with {parameter('out')}.",
        )
    trim, old = plan.boxes.trim, was["trim"]
    sizes = (old[2] - old[0], old[3] - old[1]), trim.size
    if any(abs(a - b) > 1 for a, b in zip(*sizes, strict=True)):
        raise UnfitError(
            f"its trim has {sizes[0][0]} × {sizes[0][1]} px and the page's now {trim.width} × "
            f"{trim.height}, and drawings are not enlarged or shrunk",
            f"Build into another folder with {parameter('out')}.",
        )
    if plan.boxes.fold is not None and "fold" in was:
        x = plan.boxes.fold - was["fold"]
    else:
        x = trim.right - old[2] if plan.boxes.flip else trim.left - old[0]
    return CanvasPlace(x, trim.top - old[1], *canvas.size)


def refuse_other_size(
    size: tuple[int, int],
    dpi: float | None,
    info: dict[str, Any] | None,
    plan: PagePlan,
    *,
    tiles: bool,
) -> None:
    """Raise `UnfitError` for a file whose canvas is not the one that was written.

    With `tiles` it may have been enlarged to the right and to the bottom.
    """
    was = tuple(info["page"]["canvas"]) if info else plan.boxes.canvas.size
    todo = "Give it back the size that it had, or draw on a new page."
    in_tiles = tuple(-(-edge // TILE) * TILE for edge in was)
    if size not in (was, in_tiles if tiles else was):
        came = f"it has {size[0]} × {size[1]} px, and was written with {was[0]} × {was[1]}"
        raise UnfitError(came, todo)
    if dpi and abs(dpi - plan.book.dpi) > 0.5:
        raise UnfitError(f"it says {dpi:g} dpi, and the page has {plan.book.dpi}", todo)


def refuse_other_page(
    info: dict[str, Any] | None, plan: PagePlan, every: tuple[PagePlan, ...]
) -> None:
    """Raise `OtherPageError` if the panels that were drawn are not those of the page any more."""
    if info is None or likely(info["page"], plan):
        return
    others = [other.called for other in every if likely(info["page"], other)]
    came = f"its panels are not those of {plan.called} any more"
    if others:
        came += f", but those of {', '.join(others[:3])}"
    named = parameter("pages", {plan.numbers[0]})
    raise OtherPageError(came, f"If it is {plan.called} all the same, name it: {named}.")


def elsewhere(plan: PagePlan, now: PagePlan | None, follow: str) -> OtherPageError:
    """Why a drawing under the name of a page is not worked on whose page is another one `now`.

    `follow` is how to let files follow their pages.
    """
    came = f"its page is {now.called} now" if now else "its page is not in the issue any more"
    todo = f"Let files follow their pages: {follow}."
    named = parameter("pages", {plan.numbers[0]})
    todo = f"{todo} If it is {plan.called} all the same, name it: {named}."
    return OtherPageError(came, todo)
