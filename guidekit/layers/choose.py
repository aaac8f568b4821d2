"""A stack with only some of its groups and layers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from guidekit.errors import InputError, Problem, nearest, one_of
from guidekit.layers.model import Group, Layer, Stack, all_members


def only(stack: Stack, names: Sequence[str]) -> Stack:
    """The stack with the groups and layers of these names; all of it if there are none.

    A group that is named keeps what is in it. Raises `InputError` if a name is nobody's.
    """
    if not names:
        return stack
    known = dict.fromkeys(member.name for member in all_members(stack.members))
    unknown = [name for name in names if name not in known]
    if unknown:
        raise InputError(
            Problem(
                "--layers",
                f'there is no group or layer "{name}"',
                one_of(known),
                nearest(name, known),
            )
            for name in unknown
        )
    return replace(stack, members=_kept(stack.members, frozenset(names)))


def _kept(members: tuple[Layer | Group, ...], names: frozenset[str]) -> tuple[Layer | Group, ...]:
    kept: list[Layer | Group] = []
    for member in members:
        if member.name in names:
            kept.append(member)
        elif isinstance(member, Group) and (inner := _kept(member.members, names)):
            kept.append(replace(member, members=inner))
    return tuple(kept)
