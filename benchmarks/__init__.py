"""Speed, as ratios within one run: absolute figures depend on the machine, ratios much less."""

import carrybook.app  # noqa: F401 - says how many threads matrices take, before numpy is loaded
