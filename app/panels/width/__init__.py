"""The width: chain, strokes, and where the wheel planes may stand."""

from app.panels.width.panel import WidthPanel

__all__ = ["WidthPanel"]
