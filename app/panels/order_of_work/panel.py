"""The order of work: the car's name, the lath with its stations, bought parts, tubes placed."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import IconSign
from app.look.style import label
from app.panels.order_of_work.station import FOLDED_BELOW, Station
from app.selection import Selection
from app.session import Session, State
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.document.project import Document
from core.study.bought import bought_parts
from core.study.order import StepKey
from core.study.steps import steps, tubes_placed

LEAST_WIDTH = 56
"""Logical pixels at scale 1: the lath with its marks."""

BOUGHT = "bought"
"""The list that the name of the bought parts opens."""


class OrderOfWork(QWidget):
    """The column on the left; nothing in it is ever locked, waiting is information."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the order of work of the session's car."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.stations: dict[StepKey, Station] = {}
        self.setAutoFillBackground(True)
        self._build()
        self._restyle()
        session.changed.connect(self._follow)
        selection.step_changed.connect(self._show_current)
        look.changed.connect(self._restyle)
        self._refresh(session.state)

    def _build(self) -> None:
        inner = QWidget()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.car, self.file = label("", "car"), label("", "small", "ink2")
        self._column.addSpacing(self._look.px(12))
        self._column.addWidget(self._padded(self.car))
        self._column.addWidget(self._padded(self.file, below=10))
        for state in steps(self._session.state.assessment, self._session.state.findings):
            station = Station(self._look, state)
            station.clicked.connect(self._goer(state.key))
            station.walked.connect(self._walker(state.key))
            self.stations[state.key] = station
            self._column.addWidget(station)
        self._column.addSpacing(self._look.px(14))
        self._add_parts()
        self._column.addStretch(1)
        self.tubes, self._ticks = label("", "small", "ink2"), TickBar(self._look)
        self._column.addWidget(self._padded(self.tubes, below=4))
        self._column.addWidget(self._padded(self._ticks, below=16))
        self._scroll(inner)

    def _scroll(self, inner: QWidget) -> None:
        """Let the column scroll where the window is too low for it at a large scale."""
        area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(inner)
        area.viewport().setAutoFillBackground(False)
        inner.setAutoFillBackground(False)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 1, 0)
        outer.addWidget(area)

    def _add_parts(self) -> None:
        head = QWidget()
        row = QHBoxLayout(head)
        row.setContentsMargins(self._look.px(12), 0, self._look.px(8), 0)
        row.setSpacing(self._look.px(6))
        self._tag = IconSign(self._look, "tag", "ink2")
        row.addWidget(self._tag)
        self.bought = word_button("Bought parts")
        self.bought.setProperty("role", "head")
        self.bought.setToolTip("What is in hand, what is awaited, what to chase first")
        self.bought.clicked.connect(lambda: self._selection.list_wanted.emit(BOUGHT))
        row.addWidget(self.bought)
        row.addStretch(1)
        self._column.addWidget(head)
        self.parts = label("", "small", "ink2")
        self._column.addWidget(self._padded(self.parts))

    def _padded(self, inner: QWidget, below: float = 2) -> QWidget:
        outer = QWidget()
        layout = QVBoxLayout(outer)
        side = self._look.px(16)
        layout.setContentsMargins(side, self._look.px(2), self._look.px(8), self._look.px(below))
        layout.addWidget(inner)
        return outer

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold to the marks where there is no room for words."""
        super().resizeEvent(event)
        self._fold()

    def _fold(self) -> None:
        folded = self.width() < self._look.px(FOLDED_BELOW)
        for words in (self.car, self.file, self.parts, self.tubes, self._ticks):
            words.setVisible(not folded)
        self._tag.setVisible(not folded)
        self.bought.setText("Parts" if folded else "Bought parts")

    def _goer(self, key: StepKey) -> Callable[[], None]:
        return lambda: self._selection.go_to(key)

    def _walker(self, key: StepKey) -> Callable[[int], None]:
        return lambda by: self._walk(key, by)

    def _walk(self, key: StepKey, by: int) -> None:
        keys = list(self.stations)
        at = min(max(keys.index(key) + by, 0), len(keys) - 1)
        self.stations[keys[at]].setFocus(Qt.FocusReason.OtherFocusReason)

    def focus_current(self) -> None:
        """Take the keyboard to the step in front."""
        self.stations[self._selection.step].setFocus(Qt.FocusReason.OtherFocusReason)

    def _follow(self, before: State, after: State) -> None:
        self._refresh(after, before.document)

    def _refresh(self, state: State, before: Document | None = None) -> None:
        document = state.document
        for step in steps(state.assessment, state.findings):
            self.stations[step.key].tell(step, is_current=step.key == self._selection.step)
        say(self.car, next((car.name for car in document.cars), "Unnamed car"))
        say(self.file, _file_words(self._session))
        if before is None or before.parts is not document.parts:
            say(self.parts, _parts_words(document))
        if before is None or _steel(before) != _steel(document):
            self._tell_tubes(document)

    def _tell_tubes(self, document: Document) -> None:
        placed = tubes_placed(document)
        say(self.tubes, _tube_words(placed.drawn, placed.on_a_guess))
        self._ticks.tell(placed.drawn - placed.on_a_guess, placed.drawn)

    def _show_current(self) -> None:
        for key, station in self.stations.items():
            station.tell(station.state, is_current=key == self._selection.step)

    def _restyle(self) -> None:
        self.setMinimumWidth(self._look.px(LEAST_WIDTH))
        self._fold()
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Window, self._look.colour("page"))
        self.setPalette(palette)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Lay the ground, and the line to the car."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("page"))
        painter.setPen(QPen(self._look.colour("rule"), 1))
        painter.drawLine(self.width() - 1, 0, self.width() - 1, self.height())
        painter.end()


class TickBar(QWidget):
    """How many of a number, as a rule: filled so far, ticks for the rest."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing out of nothing."""
        super().__init__(parent)
        self._look = look
        self.done = self.of = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def tell(self, done: int, of: int) -> None:
        """Show so many out of so many."""
        if (done, of) != (self.done, self.of):
            self.done, self.of = done, of
            self.setAccessibleName(f"{done} of {of}")
            self.update()

    def sizeHint(self) -> QSize:
        """A thin bar."""
        return QSize(self._look.px(120), self._look.px(7))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the filled part and the ticks."""
        painter = QPainter(self)
        share = self.done / self.of if self.of else 0.0
        width, height = self.width() - 1, self.height()
        painter.fillRect(QRectF(0, 1, share * width, height - 2), self._look.colour("ink"))
        painter.setPen(QPen(self._look.colour("ink2"), 1))
        x = share * width
        while x <= width:
            painter.drawLine(QPointF(x, 1), QPointF(x, height - 1))
            x += 3.0
        painter.end()


def _steel(document: Document) -> tuple[int, int]:
    return id(document.tubes), id(document.points)


def _file_words(session: Session) -> str:
    path: Path | None = session.path
    if path is None:
        return "not saved yet"
    return f"{path.name} · unsaved work" if session.is_changed else f"{path.name} · saved"


def _parts_words(document: Document) -> str:
    parts = bought_parts(document)
    if not parts.wanted:
        return "none in the list yet"
    words = f"{parts.in_hand} of {parts.wanted} in hand"
    first = parts.chase_first
    if first is not None:
        words += f"; chase first: {first.name.replace('_', ' ')}, {first.days:g} days"
    return words


def _tube_words(drawn: int, on_a_guess: int) -> str:
    if not drawn:
        return "no tubes yet"
    if not on_a_guess:
        return f"{drawn} tubes, none on a guessed joint"
    return f"{drawn - on_a_guess} of {drawn} tubes have no guessed joint"
