"""How far the engine and gearbox are on their way out, and the least gap there."""

import numpy as np
from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QHBoxLayout

from app.look.look import Look
from app.look.signs import VerdictMark
from app.panels.travel.measures import MM, Span
from app.panels.travel.slider import Slider
from app.pose import AT_REST, Pose
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.elided import ElidedLabel
from app.widgets.rows import say
from core.assess.clearance import TubeGap, closest_at_rest, gap_at_drop
from core.assess.limits import limit
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup
from core.document.records import WayOut
from core.engine.cells import NotComputedError
from core.geometry.types import unit
from core.quantities import number

NO_WAY = "engine out: enter the engine and gearbox and its way out"


class EngineOut(QObject):
    """A slider for the way out, with the least gap at the place where it stands."""

    def __init__(self, session: Session, pose: Pose, look: Look, parent: QObject) -> None:
        """Know of no way out yet."""
        super().__init__(parent)
        self._session, self._pose = session, pose
        self._way: WayOut | None = None
        self._told: tuple[object, ...] | None = None
        self.slider = Slider(look, "engine out", MM, self)
        self.slider.moved.connect(self.take_out)
        self.mark = VerdictMark(look, "unknown")
        self.gap = ElidedLabel("", "small")
        self._spacing = look.px(6)

    def gap_row(self) -> QHBoxLayout:
        """The gap with the mark of its verdict."""
        row = QHBoxLayout()
        row.setSpacing(self._spacing)
        row.addWidget(self.mark)
        row.addWidget(self.gap, 1)
        return row

    @Slot(float)
    def take_out(self, drop: float) -> None:
        """Show the engine and gearbox so far out along its way, mm."""
        if self._way is not None:
            held = min(max(drop, 0.0), self._way.distance)
            self._pose.take_out(held, _shift(self._way, held))

    def refresh(self, state: State) -> None:
        """Follow the session."""
        ways = state.document.ways_out
        there = bool(ways) and len(state.document.power_units) == 1
        self._way = ways[0] if there else None
        self.slider.know(None if self._way is None else Span(0.0, self._way.distance), NO_WAY)
        if self._way is None:
            self._pose.take_out(0.0, AT_REST)
        elif self._pose.drop:
            self.take_out(self._pose.drop)

    def show_pose(self) -> None:
        """Show how far it is out, and the gap there; a gap is looked for once for each place."""
        self.slider.stand_at(self._pose.drop)
        told = (self._session.state.assessment, self._pose.drop)
        if told != self._told:
            self._told = told
            self._tell_gap()

    def _tell_gap(self) -> None:
        state = self._session.state
        self.mark.setVisible(self._way is not None)
        if self._way is None:
            say(self.gap, NO_WAY)
            return
        try:
            gap = self._gap(state, self._way)
            held = ask(state, limit, "drop_gap")
        except NotComputedError as error:
            self.mark.show_verdict("unknown")
            say(self.gap, f"closest here: don't know, because {error}")
            return
        self.mark.show_verdict(held.verdict_at_least(gap.gap))
        tube = Lookup(state.document).label(gap.tube)
        figure = f"overlap {number(-gap.gap, 1)}" if gap.gap < 0 else number(gap.gap, 1)
        say(self.gap, f"{figure} closest here, {gap.part.replace('_', ' ')} to {tube}")

    def _gap(self, state: State, way: WayOut) -> TubeGap:
        if self._pose.drop == 0.0 and not way.tubes_out:
            return ask(state, closest_at_rest)
        return ask(state, gap_at_drop, Ref(way.id), self._pose.drop)


def _shift(way: WayOut, drop: float) -> Vec3:
    x, y, z = (float(v) for v in unit(np.array(way.direction, dtype=np.float64)) * drop)
    return Vec3(x, y, z)
