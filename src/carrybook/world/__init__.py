"""What the day and the ground are like: air, wind, lie, surface, hole map. Frozen values and readers."""
