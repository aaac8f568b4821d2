"""Names that a pack may have inside: plain ones, which mean one file on every system."""

from __future__ import annotations

import re
from unicodedata import category, normalize

LONGEST = 150  # characters

#: Microsoft, "Naming Files, Paths, and Namespaces": names of devices, with any ending.
_DEVICE = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9¹²³])(?:\..*)?", re.I)
_KINDS = re.compile(r"card\.toml|(?:layouts/)?[^/]+\.toml|pictures/(?:layouts/)?[^/]+\.png")


def name_problem(part: str) -> str:
    """What is wrong with one part of a name, as a clause; nothing for a plain one."""
    if not part or part in (".", ".."):
        return "leads out of its folder"
    if len(part) > LONGEST:
        return f"has more than {LONGEST} characters"
    if re.search(r'[<>:"|?*\\/]', part) or any(category(c)[0] == "C" for c in part):
        return "has characters that not every system has in names"
    if part != part.strip(" .") or part.startswith("-"):
        return "begins or ends as not every system lets names do"
    if part != normalize("NFC", part):
        return "is not spelled as Unicode composes letters (NFC)"
    return "is the name of a device" if _DEVICE.fullmatch(part) else ""


def file_problem(name: str) -> str:
    """What is wrong with the name of a file in a pack, as a clause; nothing for a sound one."""
    for part in name.split("/"):
        if problem := name_problem(part):
            return problem
    return "" if _KINDS.fullmatch(name) else "is no preset, layout or picture"
