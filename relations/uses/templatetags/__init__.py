"""Filters of the uses room."""
