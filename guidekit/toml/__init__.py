"""From a TOML file to a checked model, and from what is wrong with it to problems with lines.

::

    file          a file as it was read
    model, check  the base of all models; tables as a checked model
    problems, right_ones   what is said of wrong values, and how they are written rightly
    lines, slips  on which line something stands, and what is wrong with a line
    tables        tables of one file over those of another
    rewrite       other values in a file, of which all else stays byte for byte
    skeleton, splices, spell, rearrange   where all stands, what is put there, how, in which order
"""

from guidekit.toml.check import checked
from guidekit.toml.file import Origin, TomlFile, located, read_toml, toml_in
from guidekit.toml.model import Model

__all__ = ["Model", "Origin", "TomlFile", "checked", "located", "read_toml", "toml_in"]
