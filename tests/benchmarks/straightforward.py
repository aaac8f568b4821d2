"""The page of the benchmark as one would make it at first: full pictures, one a layer.

``python straightforward.py out.psd`` draws each layer with Pillow on a full canvas and saves with
psd-tools, ``out.ora`` with pyora; ``out.png`` and ``out.tiff`` save the guides flat as RGBA.
"""

from __future__ import annotations

import sys

from PIL import Image, ImageDraw, ImageFont

WIDTH, HEIGHT, DPI = 4125, 6300, 600
TRIM, SAFE = (75, 75, 4050, 6225), (225, 225, 3900, 6075)
PANELS = [
    (225, 225, 2006, 2100), (2119, 225, 3900, 2100),
    (225, 2213, 1375, 4087), (1488, 2213, 2637, 4087), (2750, 2213, 3900, 4087),
    (225, 4200, 3900, 6075),
]  # fmt: skip


def blank() -> tuple[Image.Image, ImageDraw.ImageDraw]:
    """A transparent picture of the whole canvas."""
    image = Image.new("RGBA", (WIDTH, HEIGHT))
    return image, ImageDraw.Draw(image)


def frame(box: tuple[int, int, int, int], weight: int, colour: tuple[int, ...]) -> Image.Image:
    """The outline of a box."""
    image, draw = blank()
    draw.rectangle((box[0], box[1], box[2] - 1, box[3] - 1), outline=colour, width=weight)
    return image


def layers() -> dict[str, Image.Image]:
    """The layers of the page, the lowest first."""
    made = {"Paper": Image.new("RGBA", (WIDTH, HEIGHT), "white")}
    made |= {name: blank()[0] for name in ("Pencils", "Colours", "Inks", "Lettering")}
    borders, draw = blank()
    gutters, tint = blank()
    tint.rectangle((225, 225, 3899, 6074), (86, 180, 233, 102))
    numbers, digits = blank()
    face = ImageFont.load_default(140)
    for number, (left, top, right, bottom) in enumerate(PANELS, 1):
        draw.rectangle((left, top, right - 1, bottom - 1), outline=(0, 0, 0, 255), width=15)
        tint.rectangle((left, top, right - 1, bottom - 1), (0, 0, 0, 0))
        digits.text((left + 100, top + 100), str(number), (0, 0, 0, 153), face)
    lettering, lines = blank()
    for line in range(225, 6075, 72):
        lines.rectangle((225, line, 3899, line + 1), (0, 114, 178, 128))
    construction, ruler = blank()
    ruler.line((225, 225, 3900, 6075), (230, 159, 0, 255), 3)
    ruler.line((225, 6075, 3900, 225), (230, 159, 0, 255), 3)
    centre, cross = blank()
    cross.line((2062, 75, 2062, 6225), (204, 121, 167, 255), 4)
    cross.line((75, 3150, 4050, 3150), (204, 121, 167, 255), 4)
    label, words = blank()
    words.text((225, 110), "Benchmark, page 2, left", (0, 0, 0, 255), ImageFont.load_default(90))
    return made | {
        "Panel borders": borders,
        "Gutters": gutters,
        "Bleed": frame((0, 0, WIDTH, HEIGHT), 4, (0, 114, 178, 255)),
        "Trim": frame(TRIM, 4, (213, 94, 0, 255)),
        "Safe area": frame(SAFE, 4, (0, 158, 115, 255)),
        "Centre lines": centre,
        "Construction lines": construction,
        "Lettering lines": lettering,
        "Panel numbers": numbers,
        "Page label": label,
    }


def main(path: str) -> None:
    """Write the page."""
    if path.endswith((".png", ".tiff")):
        flat = Image.new("RGBA", (WIDTH, HEIGHT))
        hidden = ("Paper", "Lettering lines", "Construction lines", "Centre lines")
        for name, image in layers().items():
            if name not in hidden:
                flat.alpha_composite(image)
        flat.save(
            path, dpi=(DPI, DPI), **({"compression": "tiff_deflate"} if ".tiff" in path else {})
        )
        return
    if path.endswith(".ora"):
        from pyora import Project

        project = Project.new(WIDTH, HEIGHT)
        for name, image in layers().items():
            project.add_layer(image, name)
        project.save(path)
        return
    from psd_tools import PSDImage

    document = PSDImage.new("RGB", (WIDTH, HEIGHT))
    for name, image in layers().items():
        document.create_pixel_layer(image, name=name)
    document.save(path)


if __name__ == "__main__":
    main(sys.argv[1])
