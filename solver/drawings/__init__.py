"""Drawings: so far the member schedule, the cut list and the list to buy."""
