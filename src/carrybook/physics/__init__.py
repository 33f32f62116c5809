"""One ball: air density, lift and drag, strike, flight, landing, roll, cup. No chance, no opinion."""
