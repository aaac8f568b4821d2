"""How a layer's coverage is held: as bands of runs, never as a plane of pixels."""
