"""Planned uses, their weighing, what was shown, and what must come down."""
