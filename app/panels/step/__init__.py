"""The panel of one step of work on the right."""
