"""Who introduced whom, as a whole; it keeps no tables."""
