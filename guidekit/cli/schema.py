"""``guidekit schema``: what editors use to complete and check files while one types."""

from __future__ import annotations

import json
from typing import Annotated

import typer


def schema(
    kind: Annotated[
        str, typer.Argument(help="preset, issue, layout, pack, lock, settings or events.")
    ],
) -> None:
    """Print the JSON Schema of a kind of file, for an editor that completes and checks.

    Example: guidekit schema preset
    """
    from guidekit.schema import schema_of

    typer.echo(json.dumps(schema_of(kind), indent=1, ensure_ascii=False))
