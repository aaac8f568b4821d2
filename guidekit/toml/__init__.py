"""From a TOML file to a checked model, and from what is wrong with it to problems with lines."""

from guidekit.toml.check import checked
from guidekit.toml.file import Origin, TomlFile, located, read_toml, toml_in
from guidekit.toml.model import Model

__all__ = ["Model", "Origin", "TomlFile", "checked", "located", "read_toml", "toml_in"]
