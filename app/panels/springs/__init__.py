"""Springs of both axles: figures, a spring to order, a dummy damper, wheels that hang."""

from app.panels.springs.panel import SpringsPanel

__all__ = ["SpringsPanel"]
