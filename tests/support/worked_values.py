"""Worked values of page formats, as exact fractions with the pixels beside them."""

import json
from pathlib import Path

CHECKS = json.loads((Path(__file__).parent / "data" / "checks.json").read_text("utf-8"))
