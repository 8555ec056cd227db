"""Sittings, film, pictures, and everyone who is in them."""
