"""Width, gaps and load paths in the top line: always there, each a way to its worst place."""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from app.panels.gauges.telling import KEYS, TITLES, GaugeKey, Reading, reading
from app.selection import Selection
from app.session import Session, State
from app.widgets.telling import BEFORE
from core.engine.finding import WORDS
from core.study.order import Order

HEIGHT = 44.0
PAD, GAP = 14.0, 7.0


class GaugeButton(QAbstractButton):
    """One gauge: mark, title, leading figure, and beside it what there is room for."""

    def __init__(self, look: Look, title: str, parent: QWidget | None = None) -> None:
        """Make a gauge that shows nothing yet."""
        super().__init__(parent)
        self._look = look
        self._title = title
        self.reading: Reading | None = None
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        look.changed.connect(self._refit)

    def tell(self, told: Reading) -> None:
        """Show another reading; one that is the same touches nothing."""
        if told == self.reading:
            return
        old, self.reading = self.reading, told
        before = f" ({BEFORE})" if told.behind else ""
        words = f"{self._title}: {WORDS[told.verdict]}, {told.lead}, {told.beside}{before}"
        self.setAccessibleName(words)
        self.setToolTip(words)
        if old is None or len(old.lead) != len(told.lead) or len(old.beside) != len(told.beside):
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for everything it says."""
        return QSize(int(self._lead_ends() + self._width("small", self._beside())
                         + PAD * self._look.scale + 1), self._look.px(HEIGHT))  # fmt: skip

    def minimumSizeHint(self) -> QSize:
        """Wide enough for the mark and the leading figure."""
        return QSize(int(self._lead_ends() + 1), self._look.px(HEIGHT))

    def _beside(self) -> str:
        if self.reading is None:
            return ""
        return BEFORE if self.reading.behind else self.reading.beside

    def _lead_ends(self) -> float:
        lead = "" if self.reading is None else self.reading.lead
        words = self._width("body", self._title) + self._width("head", lead)
        return words + (PAD + MARK + 3 * GAP) * self._look.scale

    def _width(self, role: str, words: str) -> float:
        return QFontMetricsF(self._look.font(role)).horizontalAdvance(words)  # type: ignore[arg-type]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the gauge."""
        painter = QPainter(self)
        if self.underMouse():
            painter.fillRect(self.rect(), self._look.colour("wash_selected"))
        painter.setPen(QPen(self._look.colour("rule"), 1))
        painter.drawLine(0, 0, 0, self.height())
        if self.reading is not None:
            self._paint_reading(painter, self.reading)
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_reading(self, painter: QPainter, told: Reading) -> None:
        scale, middle = self._look.scale, self.height() / 2
        mark = MARK * scale
        x = PAD * scale
        painter.setOpacity(0.45 if told.behind else 1.0)
        paint_verdict(painter, self._look, told.verdict, QRectF(x, middle - mark / 2, mark, mark))
        painter.setOpacity(1.0)
        x = self._paint_words(painter, x + mark + GAP * scale, "body", "ink", self._title)
        lead = "ink3" if told.behind else "ink"
        x = self._paint_words(painter, x + GAP * scale, "head", lead, told.lead)
        self._paint_words(painter, x + GAP * scale, "small", "ink2", self._beside())

    def _paint_words(self, painter: QPainter, x: float, role: str, ink: str, words: str) -> float:
        font = self._look.font(role)  # type: ignore[arg-type]
        metrics = QFontMetricsF(font)
        room = self.width() - x - 4
        shown = metrics.elidedText(words, Qt.TextElideMode.ElideRight, max(room, 0.0))
        painter.setFont(font)
        painter.setPen(self._look.colour(ink))  # type: ignore[arg-type]
        baseline = self.height() / 2 + (metrics.ascent() - metrics.descent()) / 2
        painter.drawText(QPointF(x, baseline), shown)
        return x + metrics.horizontalAdvance(shown)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


class Gauges(QWidget):
    """The three gauges of a car."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the gauges of the session's car."""
        super().__init__(parent)
        self._session, self._selection = session, selection
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self.buttons: dict[GaugeKey, GaugeButton] = {}
        for key in KEYS:
            made = GaugeButton(look, TITLES[key])
            made.clicked.connect(self._goer(key))
            self.buttons[key] = made
            row.addWidget(made, 1)
        session.changed.connect(self._follow)
        self._refresh(session.state)

    def _follow(self, _before: State, after: State) -> None:
        self._refresh(after)

    def _refresh(self, state: State) -> None:
        for key, made in self.buttons.items():
            made.tell(reading(key, state))

    def _goer(self, key: GaugeKey) -> Callable[[], None]:
        return lambda: self._go(key)

    def _go(self, key: GaugeKey) -> None:
        told = self.buttons[key].reading
        if told is None or told.worst is None:
            self._selection.go_to("frame" if key == "load paths" else "rear")
            return
        self._selection.go_to(Order(self._session.state.document).place(told.worst)[0])
        self._selection.choose(*told.worst.subjects)
        self._selection.looked_at.emit(told.worst)
