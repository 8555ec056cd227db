"""The working page of each role, and the whole page of a person."""
