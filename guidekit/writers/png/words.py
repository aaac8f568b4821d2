"""What a PNG says of itself in words."""

from __future__ import annotations

from guidekit.layers.model import Stack
from guidekit.writers.description import description


def words(stack: Stack, *, prints: bool = False) -> dict[str, str]:
    """Texts under keywords that are registered (section 11.3.3.2); see `description`."""
    return {"Title": stack.title, "Description": description(stack, prints=prints)}
