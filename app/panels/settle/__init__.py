"""A corner settled: what may move, what for, and the proposal beside what is drawn."""

from app.panels.settle.panel import SettlePanel

__all__ = ["SettlePanel"]
