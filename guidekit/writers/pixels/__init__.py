"""What formats of pixels share: rows and streams made from runs, greys, small pictures."""
