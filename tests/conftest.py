"""What all tests share."""

import os

from hypothesis import settings

import carrybook.app  # noqa: F401 - says how many threads matrices take, before numpy is loaded

# A kernel compiles on its first call, which no deadline should count. Where a failure stops a
# change from landing, the examples are the same each time; at a desk they are new each time.
settings.register_profile("desk", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "desk")
