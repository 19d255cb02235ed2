"""What the car weighs and where, what carries it, and what moves as it is driven."""

from app.panels.weight.panel import WeightPanel

__all__ = ["WeightPanel"]
