"""``guidekit schema``: what editors use to complete and check files while one types."""

from __future__ import annotations

from typing import Annotated

import typer


def schema(
    kind: Annotated[
        str, typer.Argument(help="preset, issue, series, layout, pack, lock, settings or events.")
    ],
    where: Annotated[
        bool, typer.Option("--where", help="Print the path of its file instead, for an editor.")
    ] = False,
) -> None:
    """Print the JSON Schema of a kind of file, for an editor that completes and checks.

    Example: guidekit schema preset
    """
    from guidekit.schema.kept_files import schema_file

    file = schema_file(kind)
    typer.echo(file if where else file.read_text("utf-8"), nl=where)
