"""Filters of the trips room."""
