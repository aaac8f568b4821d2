"""``guidekit dummy`` and ``guidekit thumbnails``: sheets of paper to fold and to sketch on."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import IssuePath
from guidekit.cli.say import say

Paper = Annotated[str, typer.Option("--paper", help="a4 or letter.")]


def dummy(
    issue: IssuePath,
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="A new PDF to print and fold.")
    ] = None,
    paper: Annotated[
        str | None,
        typer.Option("--paper", help="a4 or letter; by default where pages are largest."),
    ] = None,
) -> None:
    """Tell which pages share a sheet, front and back; as a PDF, a dummy to print and fold.

    A zine is one sheet: fold it along all lines, cut it along the red one.

    Example: guidekit dummy examples/salt-road.toml --out dummy.pdf
    """
    with studio_of(issue) as studio:
        if out:
            from guidekit.overview.on_paper.sheets import dummy_bytes
            from guidekit.overview.own import write_own

            write_own(out, dummy_bytes(issue, paper=paper, catalogue=studio.catalogue))
            say(f"{out}: written. Printers impose pages themselves: send them single pages.")
        else:
            from guidekit.measure import load_issue
            from guidekit.overview.on_paper.imposition import dummy_text

            say(dummy_text(load_issue(issue, catalogue=studio.catalogue)))


def thumbnails(
    issue: IssuePath,
    out: Annotated[
        Path, typer.Option("--out", "-o", help="A new file that ends in .pdf or .psd.")
    ] = Path("thumbnails.pdf"),
    per_sheet: Annotated[
        int, typer.Option("--per-sheet", help="About how many pages on a sheet.")
    ] = 8,
    paper: Paper = "a4",
    panels: Annotated[
        bool, typer.Option("--panels", help="Show the panels, to draw over.")
    ] = False,
) -> None:
    """Make sheets for first sketches: pages small, in true proportion, with lines for notes.

    A PSD for each sheet has an empty layer to sketch on.

    Example: guidekit thumbnails examples/salt-road.toml --per-sheet 12
    """
    from guidekit.overview.on_paper.first_sketches import Sketches
    from guidekit.overview.on_paper.sheets import sketch_files
    from guidekit.overview.own import write_own
    from guidekit.store.files import check_new, write_new

    wish = Sketches(paper, per_sheet, panels)
    with studio_of(issue) as studio:
        files = sketch_files(issue, out.suffix, wish, catalogue=studio.catalogue)
    if out.suffix.lower() == ".pdf":
        write_own(out, files[0])
        say(f"{out}: written.")
        return
    numbered = [out.with_stem(f"{out.stem}-{n}") for n in range(1, len(files) + 1)]
    names = numbered if files[1:] else [out]
    check_new(*names)
    for name, data in zip(names, files, strict=True):
        write_new(name, data)
        say(f"{name}: written.")
