"""Stage 4, what is stacked: the groups and layers of one canvas, guides above, paper below."""
