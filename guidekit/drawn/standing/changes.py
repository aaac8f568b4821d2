"""Two states of a page compared, in words of the trade."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.drawn.info import Info
from guidekit.errors import pages_called

Numbers = list[int]


def changes(old: Info | None, new: Info) -> tuple[str, ...]:
    """What of a page is not as it was when its guides were drawn; nothing if all is.

    Both are infos as files carry them. Where an old one does not tell all, what it tells counts.
    """
    if old is None:
        return ("which guides it has is not told in the file",)
    if "plan" in old and old["plan"] == new["plan"]:
        return ()
    told = tuple(_told(old, new))
    if not told and "plan" in old:
        return ("what guides and borders look like",)
    return told


def _told(old: Info, new: Info) -> Iterator[str]:
    was, now = old["page"], new["page"]
    if was["pages"] != now["pages"]:
        yield f"{pages_called(was['pages'])} → {pages_called(now['pages'])}"
    if _both(was, now, "side"):
        yield f"{was['side']} → {now['side']} page, and art does not mirror"
    if _both(old, new, "title"):
        yield "title"
    if _both(old, new, "preset"):
        yield f"preset {old['preset']} → {new['preset']}"
    if _both(was, now, "dpi"):
        yield f"resolution {was['dpi']} → {now['dpi']} dpi"
    if was["canvas"] != now["canvas"]:
        yield f"canvas {_size(was['canvas'])} → {_size(now['canvas'])} px"
    yield from _boxes(was, now)
    gutters = [was.get("gutter"), now["gutter"]]
    if gutters[0] and gutters[0] != gutters[1] and len(now["panels"]) > 1:
        yield f"gutters {_gutter(gutters[0])} → {_gutter(gutters[1])} px"
    if _both(was, now, "border"):
        yield f"borders {was['border']} → {now['border']} px"
    yield from _panels(was.get("panels", []), now["panels"])
    if was.get("screens") != now.get("screens"):
        yield "screens"
    for name in sorted({*old.get("guides", {}), *new["guides"]} if "guides" in old else ()):
        states = [info["guides"].get(name, "as usual") for info in (old, new)]
        if states[0] != states[1]:
            yield f"{name.replace('_', ' ')} {states[0]} → {states[1]}"


def _both(old: Info, new: Info, key: str) -> bool:
    """True if both tell it, and not the same."""
    return key in old and old[key] != new.get(key)


def _boxes(was: Info, now: Info) -> Iterator[str]:
    """Trim, bleed and safe area by how wide they are: a larger canvas alone is no change."""
    if _extent(was, "trim") != _extent(now, "trim"):
        yield f"trim {_size(_extent(was, 'trim'))} → {_size(_extent(now, 'trim'))} px"
    for key, outer, inner in (("bleed", "bleed", "trim"), ("safe area", "trim", "safe_area")):
        widths = [_between(page, outer, inner) for page in (was, now)]
        if {was.get("side"), now.get("side")} == {"left", "right"}:  # seen in a mirror
            left, top, right, bottom = widths[0]
            widths[0] = [right, top, left, bottom]
        if widths[0] != widths[1]:
            yield f"{key} {_edges(widths[0])} → {_edges(widths[1])} px"


def _panels(was: list[Info], now: list[Info]) -> Iterator[str]:
    if len(was) != len(now):
        yield f"panels {len(was)} → {len(now)}"
    elif was != now:
        numbers = [new["number"] for old, new in zip(was, now, strict=True) if old != new]
        if len(numbers) == len(now) > 1:
            yield "all panels"
            return
        shown = ", ".join(map(str, numbers[:6])) + (", …" if numbers[6:] else "")
        yield f"panel{'s' if len(numbers) > 1 else ''} {shown}"


def _extent(page: Info, key: str) -> Numbers:
    left, top, right, bottom = page[key]
    return [right - left, bottom - top]


def _between(page: Info, outer: str, inner: str) -> Numbers:
    """How far the inner box lies inside the outer one, left, top, right, bottom."""
    signs = (1, 1, -1, -1)
    return [s * (b - a) for s, a, b in zip(signs, page[outer], page[inner], strict=True)]


def _size(pair: Numbers) -> str:
    return f"{pair[0]} × {pair[1]}"


def _gutter(gutter: Info) -> str:
    across, down = gutter["across"], gutter["down"]
    return str(across) if across == down else f"{across} across and {down} down"


def _edges(widths: Numbers) -> str:
    """One number if all edges are alike."""
    return str(widths[0]) if len(set(widths)) == 1 else "/".join(map(str, widths))
