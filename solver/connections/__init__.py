"""Nailed joints: what each must carry, what one nail is worth, how many it needs.

Receives framing and solved forces; returns one record for each joint.
"""

from .joints import find_joints, states_nails
from .model import Joint, JointKind
from .slip import heel_stiffness

__all__ = ["Joint", "JointKind", "find_joints", "heel_stiffness", "states_nails"]
