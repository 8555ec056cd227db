"""The tests of Relations, in the same order as the rooms."""
