"""What can be set on an axle, what it is to be set to, and what a toe board tells of it."""

from app.panels.adjusters.panel import AdjustersPanel

__all__ = ["AdjustersPanel"]
