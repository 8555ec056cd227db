"""Tests of relations/documents."""
