"""Plain geometry of the page, in mm: points, curves, chains of chords. It knows nothing of patterns."""
