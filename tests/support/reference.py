"""Reference libraries that the tests compare with; none is needed to run guidekit."""

from importlib import import_module
from types import ModuleType

from support.absent import absent


def reference(module: str) -> ModuleType:
    """The module; where it cannot be imported the test is skipped, but under ``CI`` it fails."""
    try:
        return import_module(module)
    except (ImportError, OSError) as error:  # OSError: a system library behind it is missing
        absent(module, error)
