"""The order of work on the left."""
