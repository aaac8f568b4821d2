"""Stage 5, how it is stored: one folder a file format, found by name in one registry.

Writers know stacks, layers and coverage, and not one word of comics.
"""

from guidekit.writers.protocol import Output, Writer
from guidekit.writers.registry import WRITERS, writer_called

__all__ = ["WRITERS", "Output", "Writer", "writer_called"]
