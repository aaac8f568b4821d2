"""Stage 5, how it is stored: one folder a file format.

Writers know stacks, layers and coverage, and not one word of comics.
"""

from guidekit.writers.protocol import Output, Writer

__all__ = ["Output", "Writer"]
