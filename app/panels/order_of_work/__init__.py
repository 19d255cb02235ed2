"""The order of work on the left."""

from app.panels.order_of_work.panel import OrderOfWork

__all__ = ["OrderOfWork"]
