"""The curves: what camber, toe and the rest do over travel and steer, between car and strip."""

from app.panels.curves.panel import CurvesPanel

__all__ = ["CurvesPanel"]
