"""What a layered file says beside its layers: resolution, ruler guides, profile, metadata."""

import json
import re
import struct
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image, ImageCms
from psd_tools import PSDImage
from support.books_under_test import CASES, COMIC, Built, Case, built
from support.catalogue import stack_of, writer_called
from support.laid_out_pages import page as laid_out
from support.picture_readers import imagemagick_opens, without_thumbnail
from support.programs import output
from support.psd_walk import Walked, walk

from guidekit.layers.choose import only
from guidekit.plugins.stacks import sample
from guidekit.writers.psd.resources import xmp

# Public PSD file format specification, "Image Resource IDs"
RESOLUTION, GUIDES, THUMBNAIL, PROFILE = 1005, 1032, 1036, 1039
ACTIVE, VERSION, XMP, SELECTED = 1024, 1057, 1060, 1069
VERTICAL, HORIZONTAL = 0, 1  # "Grid and guides resource format"


def test_which_resources(walked: Walked) -> None:
    """The file holds these eight resources, in the order of their numbers."""
    first = [RESOLUTION, ACTIVE, GUIDES, THUMBNAIL]
    assert [*walked.resources] == [*first, PROFILE, VERSION, XMP, SELECTED]


def test_resolution(walked: Walked, page: Built) -> None:
    """The resolution is the page's, in 16.16 fixed point, in pixels per inch both ways."""
    across, unit, _, down, unit_down, _ = struct.unpack(">IHHIHH", walked.resources[RESOLUTION])
    assert across == down == page.boxes["dpi"] * 65536
    assert unit == unit_down == 1  # per inch


@pytest.mark.parametrize(("dpi", "stored"), [(72, 0x00480000), (350, 22937600), (600, 39321600)])
def test_stored_resolution(tmp_path: Path, dpi: int, stored: int) -> None:
    """Resolutions are stored exactly: dpi × 65536, as computed by hand."""
    toml = CASES["no bleed, no border"].toml
    page = built(Case(toml, dpi=dpi), tmp_path)
    resources = walk(page.layered.read_bytes()).resources
    assert resources[RESOLUTION][:4] == stored.to_bytes(4, "big")


def test_resolution_by_imagemagick(page: Built) -> None:
    """ImageMagick reads the same resolution in pixels per inch."""
    imagemagick_opens(page.size)
    told = output("identify", "-format", "%x %y %U", f"{page.layered}[0]").decode().split()
    assert told == [f"{page.boxes['dpi']}", f"{page.boxes['dpi']}", "PixelsPerInch"]


def test_ruler_guides(walked: Walked, page: Built) -> None:
    """Ruler guides lie on whole pixels, at the edges of trim, safe area and panels; each once."""
    data = walked.resources[GUIDES]
    version, _, _, count = struct.unpack(">IIII", data[:16])
    assert version == 1
    assert len(data) == 16 + 5 * count
    found: dict[int, list[int]] = {VERTICAL: [], HORIZONTAL: []}
    for place, direction in struct.iter_unpack(">IB", data[16:]):
        assert place % 32 == 0  # the unit is 1/32 px
        found[direction].append(place // 32)
    halves = page.boxes.get("halves", [page.boxes])
    boxes = [half[edge] for half in halves for edge in ("trim", "safe_area")]
    boxes += [panel["box"] for panel in page.boxes["panels"]]
    assert found[VERTICAL] == sorted({x for box in boxes for x in box[::2]})
    assert found[HORIZONTAL] == sorted({y for box in boxes for y in box[1::2]})


def test_profile(walked: Walked, page: Built) -> None:
    """Pillow's reader takes the profile as a display profile of the file's colour space."""
    profile = ImageCms.ImageCmsProfile(BytesIO(walked.resources[PROFILE])).profile
    assert profile.xcolor_space.strip() == ("GRAY" if page.case.grey else "RGB")
    assert profile.device_class == "mntr"
    assert struct.unpack(">I", walked.resources[PROFILE][:4]) == (len(walked.resources[PROFILE]),)


def test_no_profile() -> None:
    """A format that wants none gets a file without one; nothing else changes."""
    resources = [
        walk(b"".join(made.pieces)).resources
        for wanted in (True, False)
        for made in writer_called("psd").write(
            stack_of(laid_out({"tiers": [2, 1]}, format={"profile": wanted}))
        )
    ]
    assert resources[0].keys() - resources[1].keys() == {PROFILE}
    changed = {number for number in resources[1] if resources[0][number] != resources[1][number]}
    assert changed == {XMP}  # it has the preset's digest


def test_profile_of_grey() -> None:
    """The grey profile is a gamma of 2.2: Little CMS turns grey into what the formula gives."""
    from guidekit.writers.metadata import colour_profile

    grey = ImageCms.ImageCmsProfile(BytesIO(colour_profile(grey=True)))
    linear = ImageCms.ImageCmsProfile(BytesIO(linear_grey(colour_profile(grey=True))))
    ramp = Image.fromarray(np.arange(256, dtype=np.uint8)[None])
    turned = ImageCms.profileToProfile(
        ramp, grey, linear, renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC, outputMode="L"
    )
    wanted = 255 * (np.arange(256) / 255) ** 2.2
    assert np.abs(np.asarray(turned)[0] - wanted).max() <= 1


def linear_grey(profile: bytes) -> bytes:
    """The same profile with its one curve made straight: ICC.1, curveType, a gamma of 1."""
    curve = profile.index(b"curv")
    return profile[: curve + 12] + struct.pack(">H", 256) + profile[curve + 14 :]


def test_profile_of_colour() -> None:
    """The colour profile is sRGB: Little CMS leaves every colour as it is on the way to its own."""
    from guidekit.writers.metadata import colour_profile

    ours = ImageCms.ImageCmsProfile(BytesIO(colour_profile(grey=False)))
    colours = np.random.default_rng(7).integers(0, 256, (40, 40, 3), np.uint8)
    turned = ImageCms.profileToProfile(
        Image.fromarray(colours), ours, ImageCms.createProfile("sRGB"), outputMode="RGB"
    )
    assert np.abs(np.asarray(turned).astype(int) - colours).max() <= 1


def test_xmp(walked: Walked, page: Built) -> None:
    """The XMP packet is well-formed XML with a title, a sentence, and the geometry as JSON."""
    packet = walked.resources[XMP].decode()
    assert packet.startswith("<?xpacket begin=")
    assert packet.endswith('<?xpacket end="w"?>')
    title, text = (dublin_core(packet, name) for name in ("title", "description"))
    sentence, _, data = text.split("\n")
    info = json.loads(data)
    assert info["page"] == page.boxes
    assert f'title = "{info["title"]}"' in page.case.toml
    assert title.startswith(info["title"])
    numbers = page.boxes["pages"]
    called = "page" if len(numbers) == 1 else "pages"
    assert title.endswith(f", {called} {' and '.join(map(str, numbers))}")
    assert sentence.startswith(f"{title}: ")
    assert sentence.endswith(f", {page.size[0]} × {page.size[1]} px at {page.boxes['dpi']} dpi.")
    assert f'preset = "{info["preset"]}"' in page.case.toml


def dublin_core(packet: str, name: str) -> str:
    """A property of the Dublin Core in its default language (ISO 16684-1, section 8.3)."""
    names = {
        "dc": "http://purl.org/dc/elements/1.1/",
        "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    }
    (node,) = ElementTree.fromstring(packet).iterfind(f".//dc:{name}/rdf:Alt/rdf:li", names)
    assert node.attrib["{http://www.w3.org/XML/1998/namespace}lang"] == "x-default"
    assert node.text
    return node.text


@pytest.mark.parametrize("letter", ["\ufffe", "\uffff", "\x01"])
def test_xmp_of_letters_that_xml_cannot_hold(letter: str) -> None:
    """XML 1.0 (section 2.2) has no place for some characters; the packet stays readable."""
    packet = xmp(sample(title=f"Tide{letter}", info={"note": letter})).decode()
    assert dublin_core(packet, "title") == "Tide\ufffd"
    data = dublin_core(packet, "description")
    assert json.loads(data[data.index("{") :])["note"]


def test_xmp_by_openimageio(page: Built, tmp_path: Path) -> None:
    """OpenImageIO finds the same words as the picture's description."""
    told = output("oiiotool", "--info", "-v", without_thumbnail(page.layered, tmp_path)).decode()
    (text,) = re.findall(r'ImageDescription: "(.*})"', told, re.DOTALL)
    assert json.loads(text[text.index("{") :])["page"] == page.boxes


def test_real_merged_image(walked: Walked) -> None:
    """The file says that its merged image is really composed."""
    assert walked.resources[VERSION][:5] == struct.pack(">IB", 1, 1)  # version, hasRealMergedData


def selected_layer(walked: Walked) -> tuple[int, int]:
    """How many layers are selected, and the place of the record selected first, from the lowest.

    "Layer state information" must name the same place.
    """
    count, number = struct.unpack(">HI", walked.resources[SELECTED])
    (place,) = (
        place
        for place, record in enumerate(walked.records)
        if record.blocks[b"lyid"] == struct.pack(">I", number)
    )
    assert walked.resources[ACTIVE] == struct.pack(">H", place)
    return count, place


def test_selected_layer(walked: Walked, page: Built) -> None:
    """The one selected layer is the first of the drawing layers, ready to draw on."""
    count, place = selected_layer(walked)
    assert count == 1
    assert walked.records[place].unicode_name == page.case.drawing[0]


@pytest.mark.parametrize(
    ("drawing", "own", "first"),
    [
        (["Inks", "Pencils"], ["Pencils"], "Inks"),
        (["Inks", "Pencils"], ["Inks"], "Inks 1"),
        (["Inks", {"name": "Letters", "above": "borders"}], [], "Inks"),
        ([{"name": "Letters", "above": "borders"}, "Inks"], ["Inks"], "Letters"),
        ([{"name": "Letters", "above": "borders"}, "Inks"], ["Letters"], "Letters 1"),
        ([{"name": "Lines", "group": "Art"}, {"name": "Fills", "group": "Art"}], [], "Lines"),
    ],
    ids=str,
)
def test_the_first_stroke(drawing: list[Any], own: list[str], first: str) -> None:
    """The layer that the format lists first is the active one, wherever in the stack it is."""
    plan = laid_out({"tiers": [2, 1]}, format={"drawing": drawing, "panel_groups": own})
    (made,) = writer_called("psd").write(stack_of(plan))
    walked = walk(b"".join(made.pieces))
    count, place = selected_layer(walked)
    assert (count, walked.records[place].unicode_name) == (1, first)


@pytest.mark.parametrize(
    ("kept", "first"),
    [
        (("Lettering", "Pencils", "Paper"), "Lettering"),
        (("Guides", "Pencils", "Paper"), "Pencils"),
        (("Guides", "Paper"), None),
    ],
)
def test_the_first_stroke_on_what_is_kept(kept: tuple[str, ...], first: str | None) -> None:
    """Where the first layer is not written, the uppermost that is left to draw on is active."""
    stack = only(stack_of(laid_out({"tiers": [2, 1]})), kept)
    (made,) = writer_called("psd").write(stack)
    walked = walk(b"".join(made.pieces))
    if first is None:
        assert not {ACTIVE, SELECTED} & set(walked.resources)
    else:
        assert walked.records[selected_layer(walked)[1]].unicode_name == first


@pytest.mark.parametrize("names", [("Paper", "Inks"), ("Inks", "Inks"), ("Trim", "Inks")])
def test_selected_layer_of_two_alike(tmp_path: Path, names: tuple[str, str]) -> None:
    """The uppermost drawing layer is selected even where another layer has the same name."""
    listed = ", ".join(f'"{name}"' for name in names)
    toml = COMIC.replace("[[pages]]", f"[format]\ndrawing = [{listed}]\n[[pages]]", 1)
    walked = walk(built(Case(toml), tmp_path).layered.read_bytes())
    assert selected_layer(walked) == (1, len(names))  # the sheet is record 0, the lowest


def test_selected_layer_by_psd_tools(page: Built) -> None:
    """psd-tools reads the same number in the list of selected layers."""
    layered = PSDImage.open(page.layered)
    (first,) = [layer for layer in layered if layer.name == page.case.drawing[0]]
    assert [*layered.image_resources.get_data(SELECTED)] == [first.layer_id]
