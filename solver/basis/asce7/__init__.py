"""ASCE 7-16 loads: roof live load, snow, and allowable stress combinations."""
