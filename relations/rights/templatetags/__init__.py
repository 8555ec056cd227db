"""Filters of the rights room."""
