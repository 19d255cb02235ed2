"""The panels of the window, one a folder; none knows another."""
