"""Donor corners: what was measured on donor cars, compared, and carried over into this one."""

from app.panels.donors.comparison import DonorComparison
from app.panels.donors.panel import COMPARISON, DonorsPanel

__all__ = ["COMPARISON", "DonorComparison", "DonorsPanel"]
