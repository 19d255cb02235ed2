"""The panel of the step in front: what it is, what is known, what to look at, what waits."""

from typing import NamedTuple

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.step.known import KnownFields
from app.panels.step.leads import lead
from app.panels.step.parts_row import PartsRow
from app.panels.step.shown import counted, waiting_lines
from app.selection import Selection
from app.session import Session, State
from app.widgets.rows import Known, Section, say
from core.engine.finding import Finding
from core.study.order import Order, PartKey, Place, StepKey
from core.study.steps import StepState, parts, steps

SETTLING_MS = (0, 60)
"""When to look where a widget has come to stand: words that wrap find their height in turns."""


class Plugged(NamedTuple):
    """A widget that belongs to a step, or to one part of the driven end.

    Attributes:
        widget: shown between what is known and what waits.
        step: of which step; none for all.
        part: of which part; none for all.
    """

    widget: QWidget
    step: StepKey | None = None
    part: PartKey | None = None

    def belongs(self, place: Place) -> bool:
        """Whether it is shown at a place in the order of work."""
        step, part = place
        return (self.step or step) == step and (self.part or part) == part


class StepPanel(QWidget):
    """The right panel; other panels are plugged into it by whoever puts the window together."""

    moved = Signal(object)
    """Another step or part came to the front: (step, part)."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the step in front."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.part: PartKey = "unit"
        self._plugged: list[Plugged] = []
        self._build()
        session.changed.connect(self._follow)
        selection.step_changed.connect(self._move)
        selection.looked_at.connect(self._look_at)
        self._refresh(session.state)

    @property
    def place(self) -> Place:
        """The step in front, and in the driven end the part."""
        step: StepKey = self._selection.step
        return step, self.part if step == "rear" else None

    def plug(self, *widgets: Plugged) -> None:
        """Put widgets in, in the order in which they are to stand."""
        for each in widgets:
            self._plugged.append(each)
            self._slots.addWidget(each.widget)
        self._show_plugged()

    def show_widget(self, widget: QWidget) -> None:
        """Bring a widget of the panel into view, once it has found its place."""
        for wait in SETTLING_MS:
            QTimer.singleShot(wait, widget, lambda: self._bring(widget))

    def _bring(self, widget: QWidget) -> None:
        self._column.activate()
        top = widget.mapTo(self._inner, QPoint(0, 0)).y()
        bar, seen = self.view.verticalScrollBar(), self.view.viewport().height()
        if not bar.value() <= top <= top + widget.height() <= bar.value() + seen:
            bar.setValue(top - self._look.px(40))

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._head())
        inner = self._inner = QWidget()
        self._column = QVBoxLayout(inner)
        self._column.setContentsMargins(0, 0, 0, self._look.px(16))
        self._column.setSpacing(0)
        self.known = Section(self._look, "What is known")
        self.fields = KnownFields(self._session, self._selection, self._look)
        self.counts = Known(self._look)
        self.known.body.addWidget(self.fields)
        self.known.body.addWidget(self.counts)
        self._slots = QVBoxLayout()
        self._slots.setSpacing(0)
        self.waiting = Section(self._look, "Waiting")
        self.waiting_words = label("", "body", "ink2")
        self.waiting.body.addWidget(self.waiting_words)
        self._column.addWidget(self.known)
        self._column.addLayout(self._slots)
        self._column.addWidget(self.waiting)
        self._column.addStretch(1)
        self.view = QScrollArea()
        self.view.setWidgetResizable(True)
        self.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.view.setWidget(inner)
        self.view.viewport().setAutoFillBackground(False)
        inner.setAutoFillBackground(False)
        column.addWidget(self.view, 1)

    def _head(self) -> QWidget:
        head = QWidget()
        column = QVBoxLayout(head)
        side = self._look.px(22)
        column.setContentsMargins(side, self._look.px(14), side, self._look.px(10))
        column.setSpacing(self._look.px(8))
        row = QHBoxLayout()
        row.setSpacing(self._look.px(9))
        self.disc = NumberDisc(self._look)
        self.title = label("", "title")
        self.title.setWordWrap(False)
        self.state = label("", "small", "ink2")
        self.state.setWordWrap(False)
        self.state.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self.disc)
        row.addWidget(self.title)
        row.addWidget(self.state, 1)
        column.addLayout(row)
        state = self._session.state
        self.parts = PartsRow(self._look, parts(state.assessment, state.findings))
        self.parts.chosen.connect(self.go_to_part)
        column.addWidget(self.parts)
        self.lead = label("", "lead", "ink2")
        column.addWidget(self.lead)
        return head

    def go_to_part(self, part: PartKey) -> None:
        """Bring a part of the driven end to the front."""
        if part != self.part:
            self.part = part
            self._move()

    def _move(self) -> None:
        self._refresh(self._session.state)
        self._show_plugged()
        self.view.verticalScrollBar().setValue(0)
        self.moved.emit(self.place)

    def _look_at(self, finding: Finding) -> None:
        step, part = Order(self._session.state.document).place(finding)
        if part is not None:
            self.go_to_part(part)
        self._selection.go_to(step)

    def _follow(self, _before: State, after: State) -> None:
        self._refresh(after)

    def _place_known(self) -> None:
        """Fields stand first; where the result of the step is a table of its own, below that."""
        at = 1 if self.place == ("rear", "shafts") else 0
        item = self._column.itemAt(at)
        if item is None or item.widget() is not self.known:
            self._column.removeWidget(self.known)
            self._column.insertWidget(at, self.known)

    def _show_plugged(self) -> None:
        self._place_known()
        for each in self._plugged:
            each.widget.setVisible(each.belongs(self.place))

    def _refresh(self, state: State) -> None:
        all_steps = steps(state.assessment, state.findings)
        here = next(step for step in all_steps if step.key == self._selection.step)
        self._tell_head(state, here)
        fields = self.fields.show_place(self.place)
        rows = counted(state.document, self.place)
        self.counts.keep_only([name for name, _ in rows])
        for name, figure in rows:
            self.counts.tell(name, figure)
        self.known.setVisible(fields or bool(rows))
        self.fields.setVisible(fields)
        lines = waiting_lines(here, all_steps)
        say(self.waiting_words, "\n".join(lines))
        self.waiting.setVisible(bool(lines))

    def _tell_head(self, state: State, here: StepState) -> None:
        self.disc.tell(here.number)
        say(self.title, here.title)
        say(self.state, here.state)
        self.parts.setVisible(here.key == "rear")
        self.parts.tell(parts(state.assessment, state.findings), self.part)
        say(self.lead, lead(state.document, self.place, here))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Lay the ground."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("panel"))
        painter.end()


class NumberDisc(QWidget):
    """The number of a step, on an ink disc."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show no number yet."""
        super().__init__(parent)
        self._look = look
        self.number = 0
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.updateGeometry)

    def tell(self, number: int) -> None:
        """Show a number."""
        if number != self.number:
            self.number = number
            self.setAccessibleName(f"step {number}")
            self.update()

    def sizeHint(self) -> QSize:
        """As high as the title."""
        return QSize(self._look.px(22), self._look.px(22))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw disc and number."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("ink"))
        painter.drawEllipse(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.setPen(self._look.colour("panel"))
        painter.setFont(self._look.font("head"))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, str(self.number))
        painter.end()
