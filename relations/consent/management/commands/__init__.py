"""Commands about wordings."""
