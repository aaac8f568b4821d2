"""What is promised to plug-ins: names and signatures, pinned."""

import inspect
from dataclasses import fields, is_dataclass
from typing import Any

from guidekit.layers.guides.kind import GuideInput
from guidekit.plugins import contract

#: To change a line here is to break a promise, and takes another `VERSION`; to add one is none.
PROMISED = {
    "Area": "shapes, holes",
    "Box": "left, top, right, bottom",
    "Clip": "shapes, within",
    "Coverage": "box, row(y)",
    "Group": "name, members, visible, locked, label, mask",
    "Guide": "place, name, layer, state, colour, opacity, draw, label, states",
    "Layer": "name, shapes, colour, opacity, visible, locked, label, blend, backdrop",
    "Limits": "edge, layers, common_edge, masks, grey, depth",
    "OnePage": "safe_area, trim",
    "Output": "name, pieces",
    "Page": "across, boxes, down, file_name, note, numbers, panels, side",
    "PageBoxes": "bleed, canvas, fold, pages, trim",
    "Panel": "bleed, box, number, outline",
    "Pen": "capitals, dash(*pattern), weight",
    "Polygon": "points",
    "Rule": "box, dash",
    "Seen": "ink, page, pen, right_to_left",
    "Stack": "file_name, canvas, dpi, grey, depth, paper, members, finished, inked, rulers, "
    "selected, profile, title, about, info",
    "Stroke": "start, end, weight, dash",
    "Text": "text, x, y, height, font",
    "Writer": "limits(dpi), name, write(stack)",
    "all_members": "(members)",
    "outline": "(box, weight, dash, outward)",
}


def told(thing: Any) -> str:
    """The fields of a value, the members of a protocol or the parameters of a function."""
    if is_dataclass(thing):
        return ", ".join(field.name for field in fields(thing))
    if hasattr(thing, "_fields"):
        return ", ".join(thing._fields)
    if inspect.isfunction(thing):
        return f"({', '.join(inspect.signature(thing).parameters)})"
    members = {*vars(thing), *thing.__annotations__}
    return ", ".join(member(thing, name) for name in sorted(members) if name[0] != "_")


def member(thing: Any, name: str) -> str:
    """A member of a protocol, with the parameters of a method."""
    found = vars(thing).get(name)
    if not inspect.isfunction(found):
        return name
    parameters = [*inspect.signature(found).parameters.values()][1:]
    return f"{name}({', '.join(str(x).partition(':')[0] for x in parameters)})"


def test_what_is_promised() -> None:
    """Each name is there with its fields, members and parameters, and no other is."""
    assert contract.VERSION == 1
    names = {*contract.__all__} - {"VERSION", "Shape"}
    assert {name: told(getattr(contract, name)) for name in names} == PROMISED


def test_the_manual() -> None:
    """All that is promised says what it is for, each member of a protocol too."""
    for name in PROMISED:
        thing = getattr(contract, name)
        assert thing.__doc__, name
        for inner, found in vars(thing).items():
            if isinstance(found, property) or (inspect.isfunction(found) and inner[0] != "_"):
                assert found.__doc__, f"{name}.{inner}"


def typed(given: GuideInput) -> contract.Seen:
    """What a guide is given is what is promised of it: mypy says so."""
    return given
