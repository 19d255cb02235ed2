"""The travel strip at the bottom."""
