"""Load paths by geometry: what each question found, and the frame in figures."""

from app.panels.load_paths.panel import LoadPathsPanel

__all__ = ["LoadPathsPanel"]
