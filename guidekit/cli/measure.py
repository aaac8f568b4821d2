"""``guidekit measure``: all boxes, no files."""

from __future__ import annotations

from typing import Any

from guidekit.cli.around import say_warning, studio_of
from guidekit.cli.events import tell, tell_start, tell_warning
from guidekit.cli.options import AsJson, Dpi, IssuePath, Pages, issue_given, page_numbers
from guidekit.cli.say import say


def measure(
    issue: IssuePath, pages: Pages = None, dpi: Dpi = None, as_json: AsJson = False
) -> None:
    """Show every box of every page in canvas pixels, and write nothing.

    Boxes are left, top, right, bottom; right and bottom are just outside.

    Example: guidekit measure examples/salt-road.toml --pages 4 --json
    """
    from guidekit.measure import measure_issue

    wanted, given = page_numbers(pages), issue_given(issue)
    with studio_of(given, tell_warning if as_json else say_warning) as studio:
        data = measure_issue(given, pages=wanted, dpi=dpi, catalogue=studio.catalogue)
    if as_json:
        _tell(str(issue), data["pages"])
        return
    for page in data["pages"]:
        say("\n".join(_lines(page)))


def _tell(issue: str, pages: list[dict[str, Any]]) -> None:
    """One line a canvas."""
    tell_start("measure", issue, canvases=len(pages))
    for done, page in enumerate(pages, 1):
        names = {"canvas": page["file_name"], "pages": page["pages"], "part": page.get("part")}
        tell("page", **names, done=done, of=len(pages), measured=page)
    tell("finished", exit=0, complete=True)


def _lines(page: dict[str, Any]) -> list[str]:
    width, height = page["canvas"]
    across, down = page["gutter"]["across"], page["gutter"]["down"]
    lines = [
        f"{page['file_name']}  {page['side']}",
        f"  canvas    {width} × {height} px at {page['dpi']} dpi",
        f"  bleed     {_box(page['bleed'])}",
        f"  trim      {_box(page['trim'])}",
        f"  safe area {_box(page['safe_area'])}",
        f"  gutters   {across} px across, {down} px down; border {page['border']} px",
    ]
    if "fold" in page:
        lines.append(f"  fold      {page['fold']:6}")
    return lines + [
        f"  panel {panel['number']:<3} {_box(panel['box'])}{_more(panel)}"
        for panel in page["panels"]
    ]


def _more(panel: dict[str, Any]) -> str:
    """What is special about a panel's shape."""
    words = [f"bleeds {', '.join(panel['bleed'])}"] if "bleed" in panel else []
    if "corners" in panel:
        words.append("corners " + " ".join(f"{x:g},{y:g}" for x, y in panel["corners"]))
    if "radius" in panel:
        words.append(f"radius {panel['radius']}")
    if "ellipse" in panel:
        (across, down), tilt = panel["ellipse"]["radii"], panel["ellipse"]["tilt"]
        words.append(f"ellipse {2 * across:g} × {2 * down:g}, tilt {tilt:g} deg")
    if "level" in panel:
        words.append(f"level {panel['level']}")
    words += [f"with {figure['name']} {figure['box']}" for figure in panel.get("figures", ())]
    words += [f"without {box}" for box in panel.get("cut_out", ())]
    return "".join(f"; {word}" for word in words)


def _box(box: list[int]) -> str:
    left, top, right, bottom = box
    return f"{left:6} {top:6} {right:6} {bottom:6}   {right - left} × {bottom - top} px"
