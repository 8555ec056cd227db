"""Rings, meetings, trips, and those who help at them."""
