"""PDF out of the markup and the drawings that the pages are made of."""
