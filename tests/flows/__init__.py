"""Whole stories, through every room."""
