"""The day and the ground: air, wind, lie, surface, hole map. Frozen values and readers."""
