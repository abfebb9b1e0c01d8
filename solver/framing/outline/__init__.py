"""Framing of a drawn outline: any simple plan, each side an eave or a gable.

Rectangles keep modules of their own beside this package.
"""

from .plan import Edge, Hold, OutlinePlan, plan_of

__all__ = ["Edge", "Hold", "OutlinePlan", "plan_of"]
