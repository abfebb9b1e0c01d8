"""How many random roofs are solved: few by default, many with LOADFALL_ROOFS=500."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "roofs",
    max_examples=int(os.environ.get("LOADFALL_ROOFS", "15")),
    deadline=None,
    derandomize="LOADFALL_ROOFS" not in os.environ,
    suppress_health_check=list(HealthCheck),
)
