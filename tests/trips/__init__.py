"""Tests of relations/trips."""
