"""What several formats carry beside the pixels: text as XML takes it, a profile of fixed bytes."""

from __future__ import annotations

import re
import struct
from functools import cache

from PIL import ImageCms

#: ICC.1 header, bytes 24 to 36: the date of the profile, here always 1 January 2000, midnight.
DATE = struct.pack(">6H", 2000, 1, 1, 0, 0, 0)


def xml_text(text: str) -> str:
    """Text without what XML 1.0 (section 2.2) has no place for, not even escaped."""
    return re.sub("[\0-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]", "\ufffd", text)


@cache  # two constants of a few hundred bytes, the same for every build
def colour_profile(grey: bool) -> bytes:
    """An ICC profile: sRGB (IEC 61966-2-1), or grey with a gamma of 2.2; the same bytes always."""
    if grey:
        return _grey_profile()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return profile[:24] + DATE + profile[36:84] + bytes(16) + profile[100:]


def _grey_profile() -> bytes:
    """A monochrome display profile of version 2.1 (ICC.1:2001-04): four tags and no more."""
    name = b"Grey gamma 2.2\0"
    white = struct.pack(">3i", 0xF6D6, 0x10000, 0xD32D)  # D50, as s15Fixed16
    tags = {
        b"desc": b"desc" + struct.pack(">II", 0, len(name)) + name + bytes(78),
        b"cprt": b"text" + bytes(4) + b"No copyright\0",
        b"wtpt": b"XYZ " + bytes(4) + white,
        b"kTRC": b"curv" + struct.pack(">IIH", 0, 1, round(2.2 * 256)),
    }
    table, body, at = struct.pack(">I", len(tags)), b"", 128 + 4 + 12 * len(tags)
    for key, data in tags.items():
        table += key + struct.pack(">II", at + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    head = struct.pack(
        ">I4s4s4s4s4s12s4s4sII4sIII12s",
        at + len(body), b"\0\0\0\0", b"\x02\x10\0\0", b"mntr", b"GRAY", b"XYZ ",
        DATE, b"acsp", b"\0\0\0\0", 0, 0, b"\0\0\0\0", 0, 0, 0, white,
    )  # fmt: skip
    return head.ljust(128, b"\0") + table + body
