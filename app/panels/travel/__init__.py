"""The travel strip at the bottom."""

from app.panels.travel.panel import TravelStrip

__all__ = ["TravelStrip"]
