"""The right panel put together: the step in front, and what other panels show of it."""

from app.look.look import Look
from app.panels.clearance import ClosestPanel, MountsPanel, WayOutPanel
from app.panels.findings import LookAt
from app.panels.load_paths import LoadPathsPanel
from app.panels.step import Plugged, StepPanel
from app.panels.width import WidthPanel
from app.selection import Selection
from app.session import Session
from core.study.order import Place


def right_panel(session: Session, selection: Selection, look: Look) -> StepPanel:
    """The panel of the step in front, with everything that belongs into it."""
    panel = StepPanel(session, selection, look)
    look_at = LookAt(session, selection, look)
    panel.plug(
        Plugged(ClosestPanel(session, selection, look), "rear", "unit"),
        Plugged(WidthPanel(session, selection, look), "rear", "shafts"),
        Plugged(MountsPanel(session, selection, look), "rear", "mounts"),
        Plugged(WayOutPanel(session, selection, look), "rear", "out"),
        Plugged(LoadPathsPanel(session, selection, look), "frame"),
        Plugged(look_at),
    )

    def keep_to(place: Place) -> None:
        look_at.keep_to(lambda found: found == place)

    panel.moved.connect(keep_to)
    look_at.opened.connect(panel.show_widget)
    keep_to(panel.place)
    return panel
