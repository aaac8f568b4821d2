"""Layered PSD, and PSB where an edge is longer than 30,000 pixels.

Structures are written through `psd_tools.psd`, channel bytes are ready-made here.
"""

from guidekit.writers.psd.writer import PsdWriter

__all__ = ["PsdWriter"]
