"""A page format, a layout, a guide and a file format for guidekit."""
