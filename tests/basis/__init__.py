"""Tests of the design basis."""
