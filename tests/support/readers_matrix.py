"""Prints a Markdown table: what independent readers see of one canvas in every format.

``python tests/support/readers_matrix.py``; NODE_PATH says where ag-psd is.
"""

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.pop("CI", None)  # a missing reader is a column, not an error
sys.path.insert(0, str(Path(__file__).parents[1]))

import numpy as np

import support.readers_flat as flat
import support.readers_seen as seen
from guidekit.layers.model import Group, Label, Layer, Stack, visible_inks
from guidekit.plugins.stacks import CANVAS, MEMBERS, sample
from guidekit.raster.blend import flatten
from guidekit.raster.shapes import cover
from guidekit.writers.metadata import colour_profile
from support.catalogue import writer_called
from support.composition import with_opacity
from support.planes import plane, rgba
from support.readers_flat import Facts, package, program

SETTINGS = (
    "nesting",
    "visibility",
    "opacity",
    "blend mode",
    "locks",
    "colour labels",
    "masks",
    "layer to draw on",
)
FACTS = (
    "size",
    "resolution",
    "layers and groups",
    "order",
    "names in any script",
    *SETTINGS,
    "ruler guides",
    "profile",
    "pixels of layers",
    "pixels of the page",
)
Reader = Callable[[Path], Facts]

#: Format → readers: name, version, function.
READERS: dict[str, list[tuple[str, Callable[[], str], Reader]]] = {
    "psd": [
        ("psd-tools", package("psd-tools"), seen.psd_tools),
        ("Pillow", package("Pillow"), flat.pillow),
        ("ImageMagick", program("convert", "--version", word=2), flat.imagemagick),
        ("OpenImageIO", program("oiiotool", "--version", word=0), seen.openimageio),
        (
            "ag-psd",
            program("node", "-p", "require('ag-psd/package.json').version", word=0),
            seen.ag_psd,
        ),
    ],
    "ora": [("pyora", package("pyora"), seen.pyora)],
    "png-page": [
        ("Pillow", package("Pillow"), flat.pillow),
        ("ImageMagick", program("convert", "--version", word=2), flat.imagemagick),
    ],
    "tiff-page": [
        ("tifffile", package("tifffile"), flat.tifffile),
        ("Pillow", package("Pillow"), flat.pillow),
        ("ImageMagick", program("convert", "--version", word=2), flat.imagemagick),
    ],
    "pdf": [
        ("pikepdf", package("pikepdf"), flat.pikepdf),
        ("poppler", program("pdfinfo", "-v", word=2), flat.poppler),
    ],
    "svg": [("librsvg", program("rsvg-convert", "--version", word=2), flat.librsvg)],
}


def canvas() -> Stack:
    """One canvas with everything on it, the group of guides and a layer marked with colours."""
    labels: dict[str, Label] = {MEMBERS[0].name: "blue", "shade": "red"}
    return sample(
        members=tuple(replace(m, label=labels.get(m.name, "none")) for m in MEMBERS),
        rulers=((10, 290), (10, 190)),
        info={"title": "塩の道 🖋", "page": {"dpi": 350}},
    )


def expected(stack: Stack) -> Facts:
    """What a reader should see of the stack."""
    picture = flatten(visible_inks(stack), stack.canvas, stack.paper)
    return {
        "size": (CANVAS.width, CANVAS.height),
        "resolution": float(stack.dpi),
        "members": _members(stack, stack.members, ()),
        "ruler guides": [(x, "x") for x in stack.rulers[0]] + [(y, "y") for y in stack.rulers[1]],
        "profile": colour_profile(grey=False),
        "page": rgba(picture, CANVAS)[..., :3],
    }


def _members(
    stack: Stack, members: tuple[Layer | Group, ...], above: tuple[str, ...]
) -> list[Facts]:
    found = []
    for member in members:
        group = member if isinstance(member, Group) else None
        mask = cover(group.mask, CANVAS) if group and group.mask else None
        found.append(
            {
                "name": member.name,
                "nesting": above,
                "visibility": member.visible,
                "opacity": getattr(member, "opacity", 255),
                "blend mode": getattr(member, "blend", "pass_through"),
                "locks": member.locked,
                "colour labels": member.label,
                "layer to draw on": member is stack.selected,
                "masks": mask and (mask.box.left, mask.box.top, plane(mask, mask.box)),
            }
        )
        if isinstance(member, Group):
            found += _members(stack, member.members, (*above, member.name))
        elif member.shapes:
            pixels = np.zeros((CANVAS.height, CANVAS.width, 4), np.uint8)
            pixels[..., :3] = member.colour
            pixels[..., 3] = plane(member.coverage(CANVAS), CANVAS)
            found[-1]["pixels"] = pixels
    return found


def answers(wanted: Facts, found: Facts) -> dict[str, str]:
    """Each fact that a reader can tell: "yes", or what is seen in its place."""
    told = {}
    if "size" in found:
        told["size"] = same(
            tuple(found["size"]) == wanted["size"], "{} × {}".format(*found["size"])
        )
    if found.get("resolution"):
        dpi = found["resolution"]
        told["resolution"] = same(abs(dpi - wanted["resolution"]) < 0.01, f"{dpi:g}")
    if "ruler guides" in found:
        told["ruler guides"] = same(found["ruler guides"] == wanted["ruler guides"], "others")
    if profile := found.get("profile"):
        told["profile"] = "yes" if profile in (wanted["profile"], b"acsp") else "another"
    if "page" in found:
        page = found["page"].astype(int)[..., :3]
        worst = np.abs(page - wanted["page"]).max() if page.shape == wanted["page"].shape else 255
        told["pixels of the page"] = same(not worst, f"within {worst} of 255")
    return told | (members(wanted["members"], found["members"]) if "members" in found else {})


def same(yes: bool, otherwise: str) -> str:
    """Yes, or what is there in its place."""
    return "yes" if yes else otherwise


def count(right: list[bool]) -> str:
    """Yes where all is right, else how much is."""
    return same(all(right), f"{sum(right)} of {len(right)}" if any(right) else "no")


def members(wanted: list[Facts], found: list[Facts]) -> dict[str, str]:
    """The facts of groups and layers; readers that mangle a name are matched by the rest of it."""
    names = [part["name"] for part in wanted]
    pairs, start = [], 0
    for part in found:
        place = next((i for i in range(start, len(names)) if like(names[i], part["name"])), None)
        if place is not None:
            pairs.append((wanted[place], part))
            start = place + 1
    told = {"layers and groups": same(len(found) == len(names), f"{len(found)} of {len(names)}")}
    told["order"] = same(len(pairs) == len(found), "no")
    foreign = [(w, f) for w, f in pairs if not w["name"].isascii()]
    told["names in any script"] = count([w["name"] == f["name"] for w, f in foreign])
    for key in SETTINGS:
        if any(key in f for _, f in pairs):
            told[key] = count([equal(key, w, f) for w, f in pairs])
    with_pixels = [(w, f) for w, f in pairs if "pixels" in w]
    if any("pixels" in f for _, f in with_pixels):
        told["pixels of layers"] = count([equal_pixels(w, f) for w, f in with_pixels])
    return told


def like(name: str, mangled: str) -> bool:
    """True if a name is the other one, perhaps with question marks for letters."""
    plain = name.encode("mac_roman", "replace").decode("mac_roman")
    return mangled in (name, plain)


def equal(key: str, wanted: Facts, found: Facts) -> bool:
    """True if one setting of a layer is as it should be."""
    a, b = wanted[key], found.get(key)
    if key == "masks" and a and b:
        return a[:2] == tuple(b[:2]) and np.array_equal(a[2], b[2])
    if key == "blend mode" and a == "pass_through":
        return b in (a, "normal")  # OpenRaster: a group that is not isolated
    return bool(a == b)


def equal_pixels(wanted: Facts, found: Facts) -> bool:
    """True if a layer's pixels are as they should be, its opacity applied or not."""
    if "pixels" not in found:
        return False
    theirs = found["pixels"].on((CANVAS.width, CANVAS.height)).astype(int)
    opaque = wanted["pixels"][..., 3] == 255  # of others, some readers multiply the colour
    for ours in (wanted["pixels"], with_opacity(wanted["pixels"], wanted["opacity"])):
        alpha = np.abs(theirs[..., 3] - ours[..., 3]).max() <= 1
        if alpha and np.array_equal(theirs[opaque][:, :3], ours[opaque][:, :3]):
            return True
    return False


def column(path: Path, reader: Reader, version: Callable[[], str], wanted: Facts) -> Facts:
    """The version of a reader, and its answers; "not here" where it cannot be started."""
    try:
        number = version()
    except (OSError, ImportError, IndexError, subprocess.CalledProcessError):
        return {"version": "not here"}
    try:
        return {"version": number} | answers(wanted, reader(path))
    except Exception as error:
        return {"version": number, "size": f"cannot read it: {type(error).__name__}"}


def table(kind: str, columns: dict[str, Facts]) -> list[str]:
    """A table of one format, with the facts that one of its readers tells at least."""
    heads = [f"{name} {facts['version']}" for name, facts in columns.items()]
    lines = [f"| {kind} | {' | '.join(heads)} |", "|---" * (len(heads) + 1) + "|"]
    for fact in FACTS:
        cells = [
            "" if facts["version"] == "not here" else facts.get(fact, "no")
            for facts in columns.values()
        ]
        if {*cells} - {"no", ""}:
            lines.append(f"| {fact} | {' | '.join(cells)} |")
    return [*lines, ""]


def main() -> None:
    """Write the canvas in every format into a folder of its own, and print what is seen."""
    stack = canvas()
    wanted = expected(stack)
    with TemporaryDirectory() as folder:
        for kind, readers in READERS.items():
            (made,) = writer_called(kind).write(stack)
            path = Path(folder, made.name)
            path.write_bytes(b"".join(made.pieces))
            columns = {name: column(path, read, number, wanted) for name, number, read in readers}
            print("\n".join(table(kind, columns)))


if __name__ == "__main__":
    main()
