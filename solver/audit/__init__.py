"""The audit: prescriptive rules, and the strip of plan where braces can be legal."""

from .model import Finding, FindingKind
from .rules import audit_roof

__all__ = ["Finding", "FindingKind", "audit_roof"]
