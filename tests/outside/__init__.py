"""Checks against values that others published, each with its source."""
