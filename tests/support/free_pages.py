"""Pages that mix panels of a grid with free ones, and the same seen in a mirror."""

from typing import Any

from hypothesis import strategies as st

from guidekit.geometry.page import Panel
from guidekit.plane.outline import points_of
from support.laid_out_pages import polygon
from support.reference import reference

STAR = [["0 %", "35 %"], ["40 %", "0 %"], ["55 %", "50 %"], ["100 %", "60 %"], ["30 %", "100 %"]]
ARROW = [["10 %", "0 %"], ["100 %", "0 %"], ["60 %", "40 %"], ["110 %", "105 %"], ["-4 %", "70 %"]]
LAYOUTS: tuple[dict[str, Any], ...] = (
    {"tiers": [2, 1]},
    {"columns": [1, {"tiers": [1, 1]}]},
    {"tiers": [{"panels": 2, "slant": "9 deg"}, 1], "slant": "-4 deg"},
    {"tiers": [1, 1], "gutter": "0 px"},
)
degrees = st.integers(-40, 40).map("{} deg".format)
percent = st.integers(-30, 90).map("{} %".format)
sizes = st.integers(20, 80).map("{} %".format)


@st.composite
def own_shapes(draw: st.DrawFn) -> dict[str, Any]:
    """The keys of a shape of its own, or of none."""
    kinds: list[dict[str, Any]] = [
        {}, {"points": STAR}, {"points": ARROW}, {"ellipse": True}, {"cut_corners": "4 px"},
        {"stepped_corners": "5 px"}, {"radius": "4 px"}, {"points": STAR, "radius": "2 px"},
    ]  # fmt: skip
    shape: dict[str, Any] = draw(st.sampled_from(kinds))
    return shape | ({"tilt": draw(degrees)} if draw(st.booleans()) else {})


@st.composite
def free_pages(draw: st.DrawFn) -> dict[str, Any]:
    """A page with up to three insets and some panels of their own shape."""
    layout = dict(draw(st.sampled_from(LAYOUTS)))
    panels = {}
    for number in draw(st.sets(st.integers(1, 2), max_size=2)):
        panels[str(number)] = draw(own_shapes()) | {"level": draw(st.integers(-1, 1))}
        if draw(st.booleans()):
            side = draw(st.sampled_from(["top", "bottom"]))
            panels[str(number)]["break_out"] = {side: f"{draw(st.integers(0, 30))} px"}
    insets = []
    for _ in range(draw(st.integers(0, 3))):
        place = {"at": [draw(percent), draw(percent)], "width": draw(sizes), "height": draw(sizes)}
        area = {"within": draw(st.sampled_from(["frame", "trim", "bleed"]))}
        gutter = {"gutter": f"{draw(st.integers(0, 9))} px"}
        insets.append(
            area | place | gutter | draw(own_shapes()) | {"level": draw(st.integers(-1, 1))}
        )
    return layout | {"panel": panels, "insets": insets}


def mirrored_free(own: dict[str, Any]) -> dict[str, Any]:
    """The keys of a panel or an inset as a mirror shows them."""
    own = dict(own)
    if "tilt" in own:
        own["tilt"] = own["tilt"][1:] if own["tilt"].startswith("-") else f"-{own['tilt']}"
    if "points" in own:
        own["points"] = [[_less(x, 100), y] for x, y in own["points"]]
    if "at" in own:
        own["at"] = [_less(own["at"][0], 100 - int(own["width"].split()[0])), own["at"][1]]
    return own


def _less(percent: str, whole: int) -> str:
    return f"{whole - int(percent.split()[0])} %"


def seen(panel: Panel) -> Any:
    """What is seen of a panel, as shapely has it."""
    shapely = reference("shapely")
    whole = shapely.union_all(
        [polygon(o) for o in (panel.outline, *(f.outline for f in panel.figures))]
    )
    return whole - shapely.union_all([hole_of(panel)])


def hole_of(panel: Panel) -> Any:
    """All that is cut out of a panel."""
    shapely = reference("shapely")
    holes = (shapely.Polygon(points_of(hole)).buffer(0) for hole in panel.cut_out)
    return shapely.union_all([*holes])


def ring(panel: Panel) -> Any:
    """What is seen of a panel's border."""
    shapely = reference("shapely")
    if not panel.border:
        return shapely.Polygon()
    whole = polygon(panel.border.outer)
    if panel.border.inner:
        whole = whole - polygon(panel.border.inner)
    figures = [polygon(figure.outline) for figure in panel.figures]
    return whole - shapely.union_all([hole_of(panel), *figures])
