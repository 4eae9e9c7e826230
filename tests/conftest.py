"""For every test: generated examples may take their time, for a busy machine is no fault, and none that fails is lost.

The database of failures is a folder that git ignores, and a build server has none: what failed is therefore printed
with the line that repeats it (`@reproduce_failure`). Write it into the test as an `@example`.
"""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "unhurried", deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("unhurried")
