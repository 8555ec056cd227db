"""Papers: what was printed, what was filed, and how a page is drawn."""
