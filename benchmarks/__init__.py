"""Speed, as ratios within one run: absolute figures depend on the machine, ratios much less."""
