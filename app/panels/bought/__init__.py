"""The list of bought parts: what is in hand, what is awaited, what to chase first."""

from app.panels.bought.panel import BoughtList

__all__ = ["BoughtList"]
