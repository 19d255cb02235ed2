"""How a corner comes out when it is built, and which points to jig with care."""

from app.panels.built.panel import BuiltPanel

__all__ = ["BuiltPanel"]
