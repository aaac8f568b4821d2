"""What the tests compare with, where it is not here."""

import os
from typing import NoReturn

import pytest


def absent(what: str, error: Exception | None = None) -> NoReturn:
    """Skip the test that needs this; under ``CI`` fail, by the error that told of it if one did."""
    if os.environ.get("CI"):
        raise error or FileNotFoundError(f"{what} is not here, and the tests need it")
    pytest.skip(f"{what} is not here{f': {error}' if error else ''}")
