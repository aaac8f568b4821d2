"""A maker's machine: a home with settings and presets of its own, and folders of a studio."""

import os
from contextlib import chdir
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from support.samples import Run, run_here, run_process

#: A whole small preset.
HOUSE = """title = "{title}"
dpi = 100
trim = {{ width = "300 px", height = "400 px" }}
bleed = "10 px"
safe_area = "20 px"
gutter = "{gutter}"
border = "2 px"
drawing = ["Inks"]
"""
#: An issue that needs a preset and a layout of somebody's own, and such a layout.
CARDS = 'title = "Cards"\npreset = "house"\n[[pages]]\npanels = "two"\n'
TWO = '[two]\nabout = "{about}"\ntiers = [{tiers}]\n'


def house(title: str = "House", gutter: str = "8 px") -> str:
    """The text of a preset."""
    return HOUSE.format(title=title, gutter=gutter)


@dataclass(frozen=True)
class Home:
    """The folder of one maker; what lies in `studio` is shared with others."""

    folder: Path
    studio: Path

    @property
    def own(self) -> Path:
        """Where the maker's own presets lie."""
        return self.folder / "data" / "guidekit"

    @property
    def desk(self) -> Path:
        """Where the maker's issues lie."""
        return self.folder / "desk"

    def write(self, name: str, text: str) -> Path:
        """A file below the maker's folder."""
        return written(self.folder / name, text)

    def run(self, *arguments: object, **environ: str) -> Run:
        """The command line as this maker runs it, among the maker's issues.

        It is run in this process, which is quick, unless other packages are to be seen.
        """
        self.desk.mkdir(parents=True, exist_ok=True)
        places = {
            "XDG_CONFIG_HOME": str(self.folder / "config"),
            "XDG_DATA_HOME": str(self.folder / "data"),
            "GUIDEKIT_STUDIO": str(self.studio),
        }
        places |= environ
        if "PYTHONPATH" in places:
            return run_process(arguments, self.desk, **places)
        with chdir(self.desk), patch.dict(os.environ, places):
            return run_here(*arguments)


def written(path: Path, text: str) -> Path:
    """A file with this text, and the folders above it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def stocked(folder: Path, base: str, layouts: str) -> None:
    """Put the preset ``house``, the `base` that it is based on, and `layouts` into a folder."""
    written(folder / "house.toml", 'based_on = "base" # ours\ntitle = "House"\n')
    written(folder / "base.toml", base)
    written(folder / "layouts" / "ours.toml", layouts)


def home(tmp_path: Path, name: str = "maker") -> Home:
    """A maker's machine, with nothing on it but the folder of the studio."""
    studio = tmp_path / "studio"
    studio.mkdir(exist_ok=True)
    return Home(tmp_path / name, studio)
