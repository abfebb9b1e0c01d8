"""The design basis: clauses and tables, one small pure function per clause.

Knows nothing of roofs, frames or briefs. Every number that a code or a table sets is
here and nowhere else; SI units unless a table's own unit shows in the name.
"""
