"""Tests of relations/uses."""
