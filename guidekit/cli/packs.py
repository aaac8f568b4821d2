"""``guidekit presets pack``, ``add``, ``remove`` and ``diff``: page formats of a whole studio."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.complete import preset_and_layout_names, preset_names
from guidekit.cli.say import say
from guidekit.errors import InputError, Problem

if TYPE_CHECKING:
    from guidekit.studio.packs.changes import PackChange

Names = Annotated[
    list[str],
    typer.Argument(
        help="Presets and layouts by name.", metavar="NAME…", autocompletion=preset_and_layout_names
    ),
]
Yes = Annotated[bool, typer.Option("--yes", "-y", help="Do not ask.")]
Folder = Annotated[
    Path | None,
    typer.Option("--to", "--from", help="A studio's folder; by default your own.", metavar="DIR"),
]


def pack(
    names: Names,
    out: Annotated[Path, typer.Option("--out", "-o", help="The new pack, as in studio.zip.")],
    version: Annotated[str, typer.Option("--version", help="The pack's own version.")] = "1",
    author: Annotated[str, typer.Option("--author", help="Who made it.")] = "",
    licence: Annotated[str, typer.Option("--licence", help="On which terms it may be used.")] = "",
    notes: Annotated[str, typer.Option("--notes", help="A few words for those who add it.")] = "",
) -> None:
    """Bundle presets and layouts, with all that they are based on, for the others of a studio.

    Example: guidekit presets pack us-comic six-grid --out studio.zip
    """
    from guidekit.store.files import write_new
    from guidekit.studio.pack_file.archive import pack_bytes, pack_in
    from guidekit.studio.packs.contents import contents_of

    with studio_of() as studio:
        files = contents_of(names, studio.catalogue)
    card = {"name": out.stem, "version": version, "author": author, "licence": licence}
    data = pack_bytes({**card, "notes": notes}, files)
    pack_in(data, out)  # what is written can be added
    write_new(out, data)
    say(f"{out}: {', '.join(sorted(name for name in files if name.endswith('.toml')))}.")


def add(
    pack: Annotated[Path, typer.Argument(help="The pack.", metavar="PACK")],
    folder: Folder = None,
    yes: Yes = False,
) -> None:
    """Add a pack to your folder, or to one of the studio, after showing what it would change.

    Example: guidekit presets add examples/formats/packs/studio.zip --yes
    """
    from guidekit.studio.pack_file.archive import read_pack
    from guidekit.studio.packs.changes import changes
    from guidekit.studio.packs.kept import pack_path, packs_of, put_pack, refuse_doubles
    from guidekit.studio.places.place import place

    with studio_of() as studio:
        new = read_pack(pack)
        target = folder or studio.settings.own_folder
        there = pack_path(target, new.card.name)
        old = read_pack(there) if there.is_file() else None
        found = changes(new, studio.catalogue, old)
        refuse_doubles(new, place("", target, say, missing_ok=True))
        was = f", in place of {old.card.version}" if old else ""
        told = [f"{pack}: {new.card.name} {new.card.version}{was}"]
        told += [f"  {key}: {x}" for key in CARD if (x := getattr(new.card, key))]
        say("\n".join([*told, *map(_change, found)]))
        _agreed(yes, f"Add it to {target}?")
        with packs_of(target) as packs:
            refuse_doubles(new, place("", target, say, missing_ok=True))
            put_pack(new, packs)
    say(f"{there}: added.")


CARD = ("author", "licence", "notes")


def _change(change: PackChange) -> str:
    said = {"new": "new", "same": "as it is", "gone": "no more in it"}.get(change.kind, "")
    return f"  {change.what} {change.name}: {said or '; '.join(change.differences)}"


def _agreed(yes: bool, question: str) -> None:
    """Go on if the maker says so; else stop with nothing done."""
    if yes:
        return
    if not sys.stdin.isatty():
        came = "nobody is there to be asked"
        raise InputError(Problem((), came, todo="Say --yes to go on. Nothing was changed."))
    if not typer.confirm(question, err=True):
        say("Nothing was changed.")
        raise typer.Exit


def remove(
    name: Annotated[str, typer.Argument(help="The pack's name.", metavar="NAME")],
    folder: Folder = None,
    yes: Yes = False,
) -> None:
    """Take a pack out of your folder, or out of one of the studio.

    Example: guidekit presets remove studio --from examples/formats --yes
    """
    from guidekit.studio.packs.kept import found_pack, packs_of, remove_pack

    with studio_of() as studio:
        target = folder or studio.settings.own_folder
        pack = found_pack(name, target)
        say(f"{pack.path}: {', '.join((*pack.presets, *(x.path.stem for x in pack.layouts)))}.")
        _agreed(yes, "Remove it?")
        with packs_of(target):
            remove_pack(found_pack(name, target))
    say("Removed.")


def diff(
    one: Annotated[
        str,
        typer.Argument(
            help="A preset by name or file, or a pack.", metavar="A", autocompletion=preset_names
        ),
    ],
    other: Annotated[
        str, typer.Argument(help="Another.", metavar="B", autocompletion=preset_names)
    ],
) -> None:
    """Show in words of the trade what differs between two presets, or two packs.

    Example: guidekit presets diff us-comic us-comic-art-board
    """
    from guidekit.studio.packs.compare import differences

    with studio_of() as studio:
        lines = differences(one, other, studio.catalogue)
    say("\n".join(lines) or "They are the same.")
