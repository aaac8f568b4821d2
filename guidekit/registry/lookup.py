"""What is said of a name that nothing has."""

from __future__ import annotations

from collections.abc import Collection

from guidekit.errors import Key, Problem, nearest, one_of, shown

MOST_LISTED = 40  # names in one sentence


def unknown(
    kind: str,
    name: str,
    known: Collection[str],
    *,
    key: Key = (),
    argument: str = "",
    otherwise: str = "",
) -> Problem:
    """The problem of a `name` that is none of `known`, with the nearest of them.

    `kind` is what people call one of them, `otherwise` what is allowed in place of a name; `key`
    and `argument` say where the name stands, as in `Problem`.
    """
    allowed = f"the name of a {kind}" if len(known) > MOST_LISTED else one_of(known)
    return Problem(
        key,
        f"there is no {kind} {shown(name)}",
        f"{allowed}, or {otherwise}" if otherwise else allowed,
        nearest(name, known),
        argument=argument,
    )
