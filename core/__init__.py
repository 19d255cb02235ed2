"""Computations and documents of Jigplate, without a window: plain Python, no Qt, no clock."""
