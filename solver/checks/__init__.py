"""Checks: stresses against the strengths of a design basis, for all members at once.

Forces come from the analysis at stations; every strength, factor and limit comes from
the basis object. Over-stress is a result, never an exception.
"""
