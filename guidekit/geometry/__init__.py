"""Stage 3, where things lie: boxes, panels and the pixel grid; pure functions of fixed values."""
