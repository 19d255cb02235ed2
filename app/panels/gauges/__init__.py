"""The three gauges in the top line."""

from app.panels.gauges.panel import Gauges

__all__ = ["Gauges"]
