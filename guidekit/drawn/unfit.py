"""Why one file cannot be worked on; the others can."""

from __future__ import annotations


class UnfitError(Exception):
    """A file that is left as it is: a clause that says why, and a sentence that says what to do."""

    def __init__(self, came: str, todo: str = ""):
        self.came, self.todo = came, todo
        super().__init__(f"{came}. {todo}" if todo else f"{came}.")


class OtherPageError(UnfitError):
    """A file that seems to be of another page; where its page is named, it is worked on."""


def broken(what: str) -> UnfitError:
    """For a file that does not hold what it says it does."""
    return UnfitError(
        f"the file is damaged: {what}", "Open and save it in the drawing app, or take a copy of it."
    )
