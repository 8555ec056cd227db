"""Wordings, forms, readings, what was taken back, and the weighing."""
