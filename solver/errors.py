"""The exceptions that the solver raises, and nothing else.

Every message names the thing, its value, what is allowed and the way out. Over-stress
and a roof that cannot stand are results, never exceptions.
"""

from __future__ import annotations


class SolverError(Exception):
    """Base of every documented error of the solver."""


class FieldError(SolverError):
    """A stated value that cannot be used, named by the field that holds it.

    Attributes:
        field: path of the field in the brief, e.g. ``rafters.grade``.
        value: what was stated.
        allowed: what is allowed, in words.
        remedy: how to mend it, in words (may be empty).
    """

    def __init__(self, field: str, value: object, allowed: str, remedy: str = ""):
        self.field = field
        self.value = value
        self.allowed = allowed
        self.remedy = remedy
        message = f"{field}: {_shown(value)} cannot be used; allowed: {allowed}."
        if remedy:
            message += f" {remedy}"
        super().__init__(message)

    def within(self, prefix: str) -> FieldError:
        """Return the same error with ``prefix`` put before its field."""
        return type(self)(
            f"{prefix}.{self.field}", self.value, self.allowed, self.remedy
        )


class BriefError(FieldError):
    """The brief holds a value, or a contradiction, that cannot be framed."""


class TableError(FieldError):
    """A table of the design basis has no row for what was asked."""


class FramingError(SolverError):
    """The form cannot be framed as stated."""


class MechanismError(SolverError):
    """The frame can move without resistance; says what is free and where."""


class ContactError(SolverError):
    """No state of the one-sided contacts balances the loads."""


class ScopeError(SolverError):
    """A clause was asked for something that it does not cover.

    Attributes:
        clause: the clause, e.g. ``NDS 2018 3.3.3.7``.
        quantity: what is outside its scope.
        value: its value.
        limit: the limit, in words.
    """

    def __init__(self, clause: str, quantity: str, value: object, limit: str):
        self.clause = clause
        self.quantity = quantity
        self.value = value
        self.limit = limit
        super().__init__(
            f"{clause} does not cover {quantity} = {_shown(value)}: {limit}."
        )


def _shown(value: object) -> str:
    """Return a value as a message shows it, cut to a readable length.

    Feet and inches hold both quotation marks and are shown without more of them.
    """
    text = repr(value)
    if isinstance(value, str) and value.isprintable() and "\\'" in text:
        text = value
    return text if len(text) <= 80 else text[:77] + "..."
