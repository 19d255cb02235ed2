"""The links of an axle: its figures where the strip stands, its joints, its dampers."""

from app.panels.links.panel import LinksPanel

__all__ = ["LinksPanel"]
