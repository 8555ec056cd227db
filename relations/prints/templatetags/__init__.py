"""Filters of the prints room."""
