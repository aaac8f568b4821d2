"""``python -m guidekit``."""

from guidekit.cli import main

main()
