"""The gaps of the engine and gearbox, its way out, and how far its mounts reach."""

from app.panels.clearance.closest import ClosestPanel
from app.panels.clearance.mounts import MountsPanel
from app.panels.clearance.way_out import WayOutPanel

__all__ = ["ClosestPanel", "MountsPanel", "WayOutPanel"]
