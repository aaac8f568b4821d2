"""Stage 5, how it is stored: one folder a file format.

Writers know stacks, layers and coverage, and not one word of comics.

::

    protocol      what a writer is
    psd/, ora/, png/, tiff/, svg/, pdf/   a folder a format
    pixels/       what formats of pixels share
    paths         shapes as closed paths, for formats of lines and areas
    metadata, description   a profile and texts; what a file says of itself
"""

from guidekit.writers.protocol import Output, Writer

__all__ = ["Output", "Writer"]
