"""Influence over the roof: which square foot of it loads one number of one member.

Receives a solved roof; adds nothing to it. One solve for each number, in the contact
state of one combination, by the symmetry of the stiffness (Maxwell, Betti).
"""

from .quantity import InfluenceError, Quantity
from .surface import RoofInfluence, influence_of

__all__ = ["InfluenceError", "Quantity", "RoofInfluence", "influence_of"]
