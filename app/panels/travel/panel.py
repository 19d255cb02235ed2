"""The travel strip: what moves, how far, and for now how far the engine has come out."""

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import VerdictMark
from app.look.style import label
from app.panels.travel.rule import SteelRule
from app.pose import Pose
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.elided import ElidedLabel
from app.widgets.rows import pressed, say
from core.assess.clearance import TubeGap, closest_at_rest, gap_at_drop
from core.assess.limits import limit
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.records import WayOut
from core.engine.cells import NotComputedError
from core.geometry.types import unit
from core.quantities import QuantityError, number, parse_length

DONT_KNOW = "don't know"
DESIGN = "design position"
NOT_YET = "The links in their travel are not looked at by this version."
NO_LINKS = "don't know how the links move"
NOTHING_MOVES = "don't know: nothing moves yet"
NO_WAY = "engine out: enter the engine and gearbox and its way out"
LEAST_WIDTH, BOTH = 250, 420
"""Pixels at scale 1: the least, and from which on wheels and engine stand side by side."""

SIDE, SIDE_IN_NARROW = 18, 8
"""Pixels at scale 1 left free at both ends."""

FIGURE = 72
"""Pixels at scale 1 for the figure that can be typed in."""

BARE = ("roll", "steer")


class TravelStrip(QWidget):
    """Rules for travel, roll, steer and engine out; only the last can be moved so far."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the travel of the session's car."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.pose = Pose.of(selection)
        self._way: WayOut | None = None
        self._build()
        session.changed.connect(self._follow)
        self.pose.changed.connect(self._show_pose)
        look.changed.connect(self._fit)
        self._refresh(session.state)
        self._fit()  # before its layout can ask for room for all of it

    def _build(self) -> None:
        self._row = QHBoxLayout(self)
        self._row.setSpacing(self._look.px(20))
        self.left = QWidget()
        self.left.setLayout(self._wheels())
        self._row.addWidget(self.left, 5)
        self._row.addLayout(self._others(), 4)

    def _wheels(self) -> QVBoxLayout:
        """Bump and droop: stops are entered, how the links move is not looked at yet."""
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self._look.px(3))
        head = QHBoxLayout()
        head.addWidget(label("Travel", "head"))
        self.where = ElidedLabel(DESIGN, "small", "ink2")
        head.addWidget(self.where, 1)
        self.back = pressed("Back to design", "word")
        self.back.clicked.connect(self.pose.to_design)
        head.addWidget(self.back)
        column.addLayout(head)
        self.wheels = SteelRule(self._look, "bump and droop")
        self.wheels.setToolTip(NOT_YET)
        column.addWidget(self.wheels)
        self.unlinked = ElidedLabel("", "small", "ink2")
        self.stops = ElidedLabel("", "small", "ink2")
        column.addWidget(self.unlinked)
        column.addWidget(self.stops)
        column.addStretch(1)
        return column

    def _others(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(self._look.px(2))
        grid = QGridLayout()
        grid.setVerticalSpacing(0)
        grid.setHorizontalSpacing(self._look.px(8))
        grid.setColumnStretch(1, 1)
        self.bare: dict[str, SteelRule] = {}
        for at, name in enumerate(BARE):
            self.bare[name] = SteelRule(self._look, name)
            self.bare[name].setToolTip(NOT_YET)
            grid.addWidget(_end(label(name, "small", "ink2")), at, 0)
            grid.addWidget(self.bare[name], at, 1)
            grid.addWidget(_plain(label(DONT_KNOW, "small", "ink2")), at, 2)
        self._add_engine(grid, len(BARE))
        column.addLayout(grid)
        column.addLayout(self._gap_row())
        column.addStretch(1)
        return column

    def _add_engine(self, grid: QGridLayout, at: int) -> None:
        self.engine = SteelRule(self._look, "engine out")
        self.engine.moved.connect(self.take_out)
        self.figure = QLineEdit()
        self.figure.setAccessibleName("engine out, mm")
        self.figure.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.figure.setProperty("role", "field_strong")
        self.figure.returnPressed.connect(self._typed)
        self.unknown = _plain(label(DONT_KNOW, "small", "ink2"))
        grid.addWidget(_end(label("engine out", "small", "ink2")), at, 0)
        grid.addWidget(self.engine, at, 1)
        grid.addWidget(self.figure, at, 2)
        grid.addWidget(self.unknown, at, 2)

    def _gap_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(self._look.px(6))
        self.mark = VerdictMark(self._look, "unknown")
        self.gap = ElidedLabel("", "small")
        row.addWidget(self.mark)
        row.addWidget(self.gap, 1)
        return row

    def take_out(self, drop: float) -> None:
        """Show the engine and gearbox so far out along its way, mm."""
        if self._way is None:
            return
        held = min(max(drop, 0.0), self._way.distance)
        self.pose.take_out(held, _shift(self._way, held))

    def _typed(self) -> None:
        try:
            wanted = float(parse_length(self.figure.text()))
        except QuantityError as error:
            say(self.gap, str(error))
            return
        self.take_out(wanted)
        self._show_pose()

    def _follow(self, before: State, after: State) -> None:
        self._refresh(after)
        if before.document.cars != after.document.cars and not self._session.history.can_undo:
            self.pose.to_design()

    def _refresh(self, state: State) -> None:
        ways = state.document.ways_out
        there = bool(ways) and len(state.document.power_units) == 1
        self._way = ways[0] if there else None
        self.engine.know(None if self._way is None else self._way.distance)
        self.figure.setVisible(self._way is not None)
        self.unknown.setVisible(self._way is None)
        stops = _stop_words(state.document)
        say(self.unlinked, NO_LINKS if stops else NOTHING_MOVES)
        say(self.stops, stops or "enter the corners with their stops")
        if self._way is None:
            self.pose.to_design()
        elif not self.pose.is_design:
            self.take_out(self.pose.drop)
        self._show_pose()

    def _show_pose(self) -> None:
        drop = self.pose.drop
        self.engine.stand_at(drop)
        self.back.setVisible(not self.pose.is_design)
        away = f"engine {number(drop, 0)} out; handles still give the design position"
        say(self.where, DESIGN if self.pose.is_design else away)
        self.figure.setText(f"{number(drop, 1).removesuffix('.0')} mm")
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
        if self.pose.is_design and not way.tubes_out:
            return ask(state, closest_at_rest)
        return ask(state, gap_at_drop, Ref(way.id), self.pose.drop)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out what nothing is known of where there is no room for it."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        px = self._look.px
        self.setMinimumWidth(px(LEAST_WIDTH))
        self.figure.setFixedWidth(px(FIGURE))
        has_both = self.width() >= px(BOTH)
        self.left.setVisible(has_both)
        side = px(SIDE if has_both else SIDE_IN_NARROW)
        self._row.setContentsMargins(side, px(8), side, px(6))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Lay the ground, and the line to the car."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("panel"))
        painter.setPen(QPen(self._look.colour("rule"), 1))
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()


def _shift(way: WayOut, drop: float) -> Vec3:
    x, y, z = (float(v) for v in unit(np.array(way.direction, dtype=np.float64)) * drop)
    return Vec3(x, y, z)


def _stop_words(document: Document) -> str:
    ends = {axle.id: axle.end for axle in document.axles}
    told = [
        f"{ends.get(c.axle.id, c.name)} {number(c.droop, 0)} droop, {number(c.bump, 0)} bump"
        for c in document.corners
        if c.droop is not None and c.bump is not None
    ]
    return f"stops entered: {'; '.join(told)}" if told else ""


def _end(words: QWidget) -> QWidget:
    words.setProperty("alignment", int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter))
    return _plain(words)


def _plain(words: QWidget) -> QWidget:
    words.setProperty("wordWrap", False)  # noqa: FBT003 - a property of Qt
    return words
