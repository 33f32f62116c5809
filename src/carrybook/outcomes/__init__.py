"""Many balls: where they finish and what that costs."""
