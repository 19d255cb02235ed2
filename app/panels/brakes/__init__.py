"""The brakes: which axle locks first, what the foot and the hand must do."""

from app.panels.brakes.panel import BrakesPanel

__all__ = ["BrakesPanel"]
