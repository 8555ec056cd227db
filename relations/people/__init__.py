"""The people who sit, how to reach them, and who may see whom."""
