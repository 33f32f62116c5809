"""Review: what rounds cost, split into choice, what was believed, the strike and luck."""
