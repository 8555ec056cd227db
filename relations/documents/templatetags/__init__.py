"""Filters of the consent room."""
