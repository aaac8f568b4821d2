"""A drive that is gone, of which nobody in a test waits for an answer."""

from collections.abc import Callable
from pkgutil import resolve_name

import pytest


class DeadError(BaseException):
    """Where somebody would wait for ever."""


def silent(monkeypatch: pytest.MonkeyPatch, reader: str, name: str) -> None:
    """Whoever asks the function `reader` for what has this `name` would wait for ever."""
    real = resolve_name(reader)

    def asked(*what: object) -> object:
        if name in str(what):
            raise DeadError
        return real(*what)

    def within(seconds: float, work: Callable[[], object]) -> object:
        try:
            return work()
        except DeadError:
            raise TimeoutError("no answer") from None  # as when it has been waited for

    monkeypatch.setattr("guidekit.patience.within", within)
    monkeypatch.setattr(reader, asked)
