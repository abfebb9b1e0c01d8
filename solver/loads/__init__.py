"""Loads: cases on the roof and ceiling surfaces, and what they put on members."""

from .cases import Case
from .combine import Combinations, combinations
from .member_loads import MemberLoads, member_loads

__all__ = ["Case", "Combinations", "MemberLoads", "combinations", "member_loads"]
