"""Template filters of the introductions."""
