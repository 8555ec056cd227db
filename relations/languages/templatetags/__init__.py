"""Template filters and tags of the words on the pages."""
