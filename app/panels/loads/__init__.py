"""Forces in the links of a corner and on the chassis, in each load."""

from app.panels.loads.panel import LoadsPanel

__all__ = ["LoadsPanel"]
