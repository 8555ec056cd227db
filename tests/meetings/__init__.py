"""Tests of relations/meetings."""
