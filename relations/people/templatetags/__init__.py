"""Filters of the people room."""
