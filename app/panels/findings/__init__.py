"""What to look at, worst first."""
