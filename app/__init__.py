"""Jigplate as a person meets it: the command line."""

__version__ = "0.1.0"
