"""Site-built trusses: the method of joints beside the frame, and nails at the gussets.

Receives framing, loads and forces; changes none of them. The hand method takes every
joint for a pin and lets each load go to the nearest joints; the frame knows that chords
run through.
"""

from .gussets import GussetJoint, gusset_joints
from .hand import HandTruss, hand_trusses
from .pins import PinTruss, pin_forces

__all__ = [
    "GussetJoint",
    "HandTruss",
    "PinTruss",
    "gusset_joints",
    "hand_trusses",
    "pin_forces",
]
