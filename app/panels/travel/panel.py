"""The travel strip: what moves, how far, and what is read at the wheels where they stand."""

from PySide6.QtCore import Slot
from PySide6.QtGui import QHideEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.travel.engine_out import EngineOut
from app.panels.travel.measures import DEGREES, MM, Span
from app.panels.travel.playing import Player
from app.panels.travel.slider import Slider
from app.panels.travel.wheels import WheelTable, rows_of
from app.panels.travel.words import is_known, place_words, said_of, why_unknown
from app.pose import Pose
from app.selection import Selection
from app.session import Session, State
from app.widgets.elided import ElidedLabel
from app.widgets.rows import pressed, say
from core.scene.ends import Ends, stop_words
from core.scene.posed import PosedCar

LEAST_WIDTH, BOTH, ALL = 250, 420, 720
"""Pixels at scale 1: the least; from which on travel stands beside the rest; and the table too."""

SIDE, SIDE_IN_NARROW = 18, 8
"""Pixels at scale 1 left free at both ends."""

FIGURE = 68
"""Pixels at scale 1 for a figure that can be typed in."""

ROLL_MOST = 3.0
"""Degrees that the rule of roll goes: as far as it is of use to look, not a limit of the car."""


class TravelStrip(QWidget):
    """Rules for bump and droop, roll, steer and engine out, and the figures at the wheels."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the travel of the session's car."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.pose = Pose.of(selection)
        self._is_reduced = False
        self._make()
        self._build()
        session.changed.connect(self._follow)
        self.pose.changed.connect(self._show_pose)
        look.changed.connect(self._fit)
        self._refresh(session.state)
        self._fit()  # before its layout can ask for room for all of it

    # --- building ----------------------------------------------------------------------------

    def _make(self) -> None:
        self.travel = Slider(self._look, "bump and droop", MM, self)
        self.travel.rule.has_notes = True
        self.bump = Slider(self._look, "bump", MM, self)  # the same in a narrow strip
        self.roll = Slider(self._look, "roll", DEGREES, self)
        self.steer = Slider(self._look, "steer", MM, self)
        self.engine = EngineOut(self._session, self.pose, self._look, self)
        self.player = Player(self)
        self.player.at.connect(self._play_to)
        self.player.turned.connect(self._tell_player)
        self.travel.moved.connect(self._bump_to)
        self.bump.moved.connect(self._bump_to)
        self.roll.moved.connect(self._roll_to)
        self.steer.moved.connect(self._steer_to)
        for slider in self._sliders():
            slider.refused.connect(self._refused)

    def _sliders(self) -> tuple[Slider, ...]:
        return (self.travel, self.bump, self.roll, self.steer, self.engine.slider)

    def _build(self) -> None:
        self._row = QHBoxLayout(self)
        self.left = QWidget()
        self.left.setLayout(self._wheels())
        self._row.addWidget(self.left, 5)
        self._row.addLayout(self._others(), 4)
        self.table = WheelTable(self._look)
        self._row.addWidget(self.table)

    def _wheels(self) -> QVBoxLayout:
        """Bump and droop with its stops, and what does not go there."""
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self._look.px(3))
        column.addLayout(self._head())
        column.addWidget(self.travel.rule)
        self.where = ElidedLabel("", "small", "ink2")
        self.said = ElidedLabel("", "small", "ink")
        column.addWidget(self.where)
        column.addWidget(self.said)
        column.addStretch(1)
        return column

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        head.addWidget(label("Travel", "head"))
        head.addWidget(self.travel.figure)
        head.addWidget(self.travel.unknown)
        head.addStretch(1)
        self.play = pressed("Play", "word")
        self.play.clicked.connect(self._play_or_stop)
        self.back = pressed("Back to design", "word")
        self.back.clicked.connect(self._back)
        stays = self.back.sizePolicy()
        stays.setRetainSizeWhenHidden(True)
        self.back.setSizePolicy(stays)
        head.addWidget(self.play)
        head.addWidget(self.back)
        return head

    def _others(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(self._look.px(2))
        grid = QGridLayout()
        grid.setVerticalSpacing(0)
        grid.setHorizontalSpacing(self._look.px(8))
        grid.setColumnStretch(1, 1)
        names: list[QLabel] = []
        for at, slider in enumerate((self.bump, self.roll, self.steer, self.engine.slider)):
            names.append(slider.made_name())
            grid.addWidget(names[-1], at, 0)
            grid.addWidget(slider.rule, at, 1)
            grid.addWidget(slider.figure, at, 2)
            grid.addWidget(slider.unknown, at, 2)
        self._bump_name = names[0]
        column.addLayout(grid)
        column.addLayout(self.engine.gap_row())
        column.addStretch(1)
        return column

    # --- moving ------------------------------------------------------------------------------

    @Slot(float)
    def _bump_to(self, bump: float) -> None:
        self.player.stop()
        self.pose.set_wheels(bump=bump)

    @Slot(float)
    def _roll_to(self, roll_deg: float) -> None:
        self.pose.set_wheels(roll_deg=roll_deg)

    @Slot(float)
    def _steer_to(self, rack: float) -> None:
        self.pose.set_wheels(rack=rack)

    def take_out(self, drop: float) -> None:
        """Show the engine and gearbox so far out along its way, mm."""
        self.engine.take_out(drop)

    @Slot()
    def _back(self) -> None:
        self.player.stop()
        self.pose.to_design()

    @Slot()
    def _play_or_stop(self) -> None:
        if self.player.is_on:
            self.player.stop()
        else:
            ends = self.pose.car(self._session.state).ends
            self.player.start(self.pose.bump, ends.low, ends.high)

    @Slot(float)
    def _play_to(self, bump: float) -> None:
        self.pose.set_wheels(bump=bump)

    @Slot(bool)
    def _tell_player(self, is_on: bool) -> None:  # noqa: FBT001 - a signal's
        self.play.setText("Stop" if is_on else "Play")

    def set_reduced_motion(self, reduced: bool) -> None:  # noqa: FBT001 - as a switch gives it
        """Offer to play the travel, or not."""
        self._is_reduced = reduced
        if reduced:
            self.player.stop()
        self._show_pose()

    @Slot(str)
    def _refused(self, why: str) -> None:
        say(self.said if self.left.isVisible() else self.engine.gap, why)

    # --- showing -----------------------------------------------------------------------------

    def _follow(self, before: State, after: State) -> None:
        self._refresh(after)
        if before.document.cars != after.document.cars and not self._session.history.can_undo:
            self._back()

    def _refresh(self, state: State) -> None:
        car = self.pose.car(state)
        self._know(car)
        self.engine.refresh(state)
        self._keep_within(car)
        self._show_pose()

    def _know(self, car: PosedCar) -> None:
        """Give each rule its ends."""
        known, ends, why = is_known(car), car.ends, why_unknown(car)
        travel = _travel(ends) if known else None
        for slider in (self.travel, self.bump):
            slider.know(travel, why, "" if travel is None else ", ".join(travel.notes))
        roll = Span(-ROLL_MOST, ROLL_MOST) if known else None
        self.roll.know(roll, why, "of the body, left side up above zero")
        rack = ends.rack if known else None
        span = None if rack is None else Span(-rack, rack, (-rack, rack))
        why = why if not known else ends.no_rack
        self.steer.know(span, why, "of the rack, to the left above zero")
        self._fit()

    def _keep_within(self, car: PosedCar) -> None:
        """Let the wheels not stay where they can no longer be brought."""
        pose, is_there = self.pose, is_known(car)
        pose.set_wheels(
            self.travel.rule.held(pose.bump) if is_there else 0.0,
            self.roll.rule.held(pose.roll_deg) if is_there else 0.0,
            self.steer.rule.held(pose.rack) if is_there else 0.0,
        )

    @Slot()
    def _show_pose(self) -> None:
        pose = self.pose
        car = pose.car(self._session.state)
        self.travel.stand_at(pose.bump)
        self.bump.stand_at(pose.bump)
        self.roll.stand_at(pose.roll_deg)
        self.steer.stand_at(pose.rack)
        self.back.setVisible(not pose.is_design)
        self.play.setVisible(is_known(car) and not self._is_reduced)
        say(self.where, place_words(pose.place))
        say(self.said, said_of(car))
        self.table.tell(rows_of(car), is_steered=pose.rack != 0.0)
        self.engine.show_pose()

    # --- Qt ----------------------------------------------------------------------------------

    def hideEvent(self, event: QHideEvent) -> None:
        """Play nothing that is not seen."""
        self.player.stop()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out what there is no room for."""
        super().resizeEvent(event)
        self._fit()

    @Slot()
    def _fit(self) -> None:
        px = self._look.px
        self.setMinimumWidth(px(LEAST_WIDTH))
        for slider in self._sliders():
            slider.figure.setFixedWidth(px(FIGURE))
        has_both = self.width() >= px(BOTH)
        self.left.setVisible(has_both)
        self._show_narrow(not has_both)
        car = self.pose.car(self._session.state)
        self.table.setVisible(bool(car.corners) and self.width() >= px(ALL))
        side = px(SIDE if has_both else SIDE_IN_NARROW)
        self._row.setSpacing(side)
        self._row.setContentsMargins(side, px(8), side, px(6))

    def _show_narrow(self, is_narrow: bool) -> None:  # noqa: FBT001 - one of two states
        """Let bump stand among the rest where there is no room for a rule of its own."""
        is_there = self.bump.rule.span is not None
        self._bump_name.setVisible(is_narrow)
        self.bump.rule.setVisible(is_narrow)
        self.bump.figure.setVisible(is_narrow and is_there)
        self.bump.unknown.setVisible(is_narrow and not is_there)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Lay the ground, and the line to the car."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("panel"))
        painter.setPen(QPen(self._look.colour("rule"), 1))
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()


def _travel(ends: Ends) -> Span:
    """The range from the furthest droop to the furthest bump, with every stop as a post."""
    posts = tuple(stop.at for stop in (*ends.droops, *ends.bumps))
    notes = (stop_words("droop", ends.droops), stop_words("bump", ends.bumps))
    return Span(ends.low, ends.high, posts, notes)
