"""The width: chain, strokes, and where the wheel planes may stand."""
