"""The card of a pack: what it is, for people, and the digest of each file in it."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field

from guidekit.errors import WrongValueError, shown
from guidekit.studio.pack_file.names import name_problem
from guidekit.toml import Model
from guidekit.toml.model import Name, at_most
from guidekit.toml.spell import block

VERSION: Literal[1] = 1
CARD = "card.toml"
MOST_FILES = 2_000
LARGEST_FILE = 4_000_000  # bytes
LARGEST_PACK = 50_000_000  # bytes, as stored and as read

HEAD = (
    "# A pack of guidekit: page formats and layouts of a studio. guidekit presets add takes it.\n"
)


def _name(value: object) -> str:
    allowed = "a name of letters and digits, also with spaces, - and _"
    if not isinstance(value, str) or not value[:1].isalnum() or "." in value:
        raise WrongValueError(f"{shown(value)} is not the name of a pack", allowed)
    if problem := name_problem(f"{value}.zip"):
        raise WrongValueError(f"{shown(value)} {problem}", allowed)
    return value


class Card(Model):
    """What stands on the card; `files` has the SHA-256 of every other file by name."""

    example: ClassVar = {"pack": 1, "name": "studio", "version": "1", "files": {}}

    pack: Literal[1]
    name: Annotated[str, BeforeValidator(_name)]
    version: Name
    author: str = ""
    licence: str = ""
    notes: str = ""
    files: Annotated[
        dict[str, Annotated[str, Field(pattern="^[0-9a-f]{64}$")]], at_most(MOST_FILES)
    ]


def card_text(card: dict[str, Any]) -> bytes:
    """A card as it is stored."""
    head = {key: card[key] for key in Card.model_fields if key in card and key != "files"}
    body = "\n".join([block((), head, "").lstrip("\n"), block(("files",), card["files"], "[]")])
    return f"{HEAD}\n{body}".encode()
