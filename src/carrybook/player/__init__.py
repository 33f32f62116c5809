"""What this player does with a ball: bag, shots, logged balls, carries and scatter."""
