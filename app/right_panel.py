"""The right panel put together: the step in front, and what other panels show of it."""

from PySide6.QtCore import Qt, QTimer

from app.look.look import Look
from app.panels.adjusters import AdjustersPanel
from app.panels.brakes import BrakesPanel
from app.panels.built import BuiltPanel
from app.panels.clearance import ClosestPanel, MountsPanel, WayOutPanel
from app.panels.donors import DonorsPanel
from app.panels.findings import LookAt
from app.panels.links import LinksPanel
from app.panels.load_paths import LoadPathsPanel
from app.panels.loads import LoadsPanel
from app.panels.settle import SettlePanel
from app.panels.springs import SpringsPanel
from app.panels.step import Plugged, StepPanel
from app.panels.weight import WeightPanel
from app.panels.width import WidthPanel
from app.places import first_in
from app.selection import Section, Selection
from app.session import Session
from core.study.order import Place

ALL_SHOWN_MS = 250
"""After a step was gone to, for what stands above a section to have found its height."""


def right_panel(session: Session, selection: Selection, look: Look) -> StepPanel:
    """The panel of the step in front, with everything that belongs into it."""
    panel = StepPanel(session, selection, look)
    look_at = LookAt(session, selection, look)
    weight = WeightPanel(session, selection, look)
    brakes = BrakesPanel(session, selection, look)
    panel.plug(
        Plugged(ClosestPanel(session, selection, look), "rear", "unit"),
        Plugged(WidthPanel(session, selection, look), "rear", "shafts"),
        Plugged(LinksPanel(session, selection, look), "rear", "links"),
        Plugged(LinksPanel(session, selection, look, "other"), "front"),
        Plugged(SpringsPanel(session, selection, look), "rear", "links"),
        Plugged(SpringsPanel(session, selection, look, "other"), "front"),
        Plugged(LoadsPanel(session, selection, look), "rear", "links"),
        Plugged(LoadsPanel(session, selection, look, driven=False), "front"),
        Plugged(AdjustersPanel(session, selection, look), "rear", "links"),
        Plugged(AdjustersPanel(session, selection, look, "other"), "front"),
        Plugged(SettlePanel(session, selection, look), "rear", "links"),
        Plugged(BuiltPanel(session, selection, look), "rear", "links"),
        Plugged(SettlePanel(session, selection, look, driven=False), "front"),
        Plugged(BuiltPanel(session, selection, look, driven=False), "front"),
        Plugged(DonorsPanel(session, selection, look), "rear", "links"),
        Plugged(DonorsPanel(session, selection, look, driven=False), "front"),
        Plugged(MountsPanel(session, selection, look), "rear", "mounts"),
        Plugged(WayOutPanel(session, selection, look), "rear", "out"),
        Plugged(brakes, "front"),
        Plugged(LoadPathsPanel(session, selection, look), "frame"),
        Plugged(weight, "bench"),
        Plugged(look_at),
    )

    def keep_to(place: Place) -> None:
        look_at.keep_to(lambda found: found == place)

    def open_section(name: Section) -> None:
        """Bring a section to the front, from whatever step, and take the keyboard there."""
        selection.go_to("bench" if name == "weight" else "front")
        widget = weight if name == "weight" else brakes
        panel.show_widget(widget)
        QTimer.singleShot(ALL_SHOWN_MS, widget, lambda: panel.show_widget(widget))
        target = first_in(widget)
        if target is not None:
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    selection.section_wanted.connect(open_section)
    panel.moved.connect(keep_to)
    look_at.opened.connect(panel.show_widget)
    keep_to(panel.place)
    return panel
