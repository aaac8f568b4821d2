"""PDF (ISO 32000-1) at true size, for those who draw on paper: lines to ink over, no pixels.

It is plain on purpose: fills, clips and letters, no transparency, so that every printer draws it
alike. `boxes` has the page boxes, `sheets` what goes on which sheet of paper, `artwork`, `marks`
and `strip` what is drawn on one, `document` writes it down.
"""

from guidekit.writers.pdf.writer import PdfA4Writer, PdfLetterWriter, PdfWriter

__all__ = ["PdfA4Writer", "PdfLetterWriter", "PdfWriter"]
