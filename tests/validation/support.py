"""Shared by the validation tests: what the external checks themselves use."""

from loadfall.solver.verification.support import check_one, forces, inches, table

__all__ = ["check_one", "forces", "inches", "table"]
