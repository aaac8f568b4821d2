"""The lines that ``build``, ``measure`` and ``refresh --json`` print, each a JSON object."""

from __future__ import annotations

from guidekit.schema.spellings import Schema

_TEXT: Schema = {"type": "string"}
_COUNT: Schema = {"type": "integer", "minimum": 0}
_TEXTS: Schema = {"type": "array", "items": _TEXT}
_PAGES: Schema = {"type": "array", "items": {"type": "integer"}}
_REFRESHED: Schema = {"enum": ["refreshed", "up to date", "empty", "refused", "put back"]}
_OUTCOME: Schema = {"enum": ["written", "unchanged", "drawn", "kept", "other dpi"]}

#: Each event: what it tells, the keys that are always there, and those that may be.
EVENTS: dict[str, tuple[str, Schema, Schema]] = {
    "started": (
        "The issue is read and fit to build: how many canvases, or files to refresh, will come.",
        {"version": {"const": 1}, "command": {"enum": ["build", "measure", "refresh"]},
         "issue": _TEXT},
        {"folder": _TEXT, "canvases": _COUNT, "files": _COUNT},
    ),
    "page": (
        "A canvas is done: its files and what became of each, or all its boxes.",
        {"canvas": _TEXT, "pages": _PAGES, "done": _COUNT, "of": _COUNT},
        {"part": {"type": ["integer", "null"]}, "measured": {"type": "object"},
         "files": {"type": "object", "additionalProperties": _OUTCOME}},
    ),
    "refresh": (
        "What became of a file that was to get today's guides, and where the old one is kept.",
        {"name": _TEXT, "pages": _PAGES, "outcome": _REFRESHED, "done": _COUNT, "of": _COUNT},
        {"why": _TEXT, "changed": _TEXTS, "notes": _TEXTS, "kept": _TEXT},
    ),
    "kept": (
        "A file was not replaced: drawn on, not guidekit's, or of another resolution.",
        {"file": _TEXT, "why": _OUTCOME},
        {},
    ),
    "warning": ("A caution, or what was left out.", {"text": _TEXT}, {}),
    "error": (
        "What is wrong, as `told`; where it stands and what to write, as far as that is known.",
        {"told": _TEXT},
        {"file": _TEXT, "line": {"type": ["integer", "null"]}, "pages": _PAGES, "key": _TEXT,
         "argument": _TEXT, "came": _TEXT, "allowed": _TEXT, "todo": _TEXT},
    ),
    "finished": (
        "The last line: the exit code, and whether all that was asked for is there.",
        {"exit": _COUNT, "complete": {"type": "boolean"}},
        {"left_over": _TEXTS, "sizes": {"type": "array"}},
    ),
}  # fmt: skip


def event_schema() -> Schema:
    """The schema of one line."""
    return {
        "description": "One line of build, measure or refresh with --json; more keys may come.",
        "type": "object",
        "required": ["event"],
        "oneOf": [
            {
                "description": about,
                "properties": {"event": {"const": name}, **needed, **more},
                "required": ["event", *needed],
            }
            for name, (about, needed, more) in EVENTS.items()
        ],
    }
