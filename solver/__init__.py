"""Loadfall: where a stick-framed roof's load falls, and what can carry it."""
