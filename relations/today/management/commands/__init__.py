"""Commands of the working day."""
