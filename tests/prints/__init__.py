"""Tests of relations/prints."""
