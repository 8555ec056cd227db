"""Commands of the languages."""
