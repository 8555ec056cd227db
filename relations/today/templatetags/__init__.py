"""Filters of the room of today."""
