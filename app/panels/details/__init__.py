"""Details: the panel about the thing chosen."""

from app.panels.details.panel import Details

__all__ = ["Details"]
