"""What to do, with reasons."""
