"""The person who may stand anywhere, and how long such a load lasts."""

from __future__ import annotations

from ...units import POUND

# ASCE 7-16 Table 4.3-1, concentrated: all roof surfaces subject to maintenance
# workers, and all other primary roof members, 300 lb (from memory). The same table has
# 200 lb on accessible ceilings; its commentary says that these are not meant to be
# walked on. The heavier is taken for joists as well, because people do walk there.
PERSON = 300 * POUND
PERSON_CLAUSE = "ASCE 7-16 Table 4.3-1, 300 lb; NDS 2018 Table 2.3.2, construction load"
# NDS 2018 Table 2.3.2: construction load, seven days.
PERSON_DURATION = 1.25
