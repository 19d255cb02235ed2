"""The panel of one step of work on the right."""

from app.panels.step.panel import Plugged, StepPanel

__all__ = ["Plugged", "StepPanel"]
