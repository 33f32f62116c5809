"""One ball: air, lift and drag, strike, flight, bounce, roll, cup. No chance, no opinion."""
