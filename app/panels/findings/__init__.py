"""What to look at, worst first."""

from app.panels.findings.panel import LookAt

__all__ = ["LookAt"]
