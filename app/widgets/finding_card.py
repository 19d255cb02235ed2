"""A card that says one finding: mark, sentence, verdict, figure, gauge, source of the limit."""

from html import escape

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import VerdictMark
from app.look.style import label, set_property
from app.look.tokens import ColourName
from app.widgets.gauge import Gauge
from app.widgets.telling import detail_words, scale_of, verdict_word
from core.engine.finding import Finding


class FindingCard(QFrame):
    """One finding; clicked, or on Enter, it asks to be opened. What it opens to is put into it."""

    clicked = Signal()

    def __init__(
        self, look: Look, finding: Finding, *, side_margin: int = 22, parent: QWidget | None = None
    ) -> None:
        """Show a finding."""
        super().__init__(parent)
        self._look = look
        self.finding = finding
        self.worse = self.is_open = False
        self._body: QWidget | None = None
        self._gauge: Gauge | None = None
        self._side_margin = side_margin
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._build()
        self._tell()
        look.changed.connect(self._restyle)

    def _build(self) -> None:
        self._mark = VerdictMark(self._look, self.finding.verdict)
        self._sentence = label("", "finding")
        self._detail = label("", "small", "ink2")
        self._detail.setTextFormat(Qt.TextFormat.RichText)
        self._source = label("", "small", "ink3")
        self._words = QVBoxLayout()
        self._words.setSpacing(self._look.px(2))
        for widget in (self._sentence, self._detail, self._source):
            self._words.addWidget(widget)
        row = QHBoxLayout()
        row.setSpacing(self._look.px(9))
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(self._words, 1)
        self._row = QVBoxLayout(self)
        self._row.addLayout(row)
        self._set_margins()

    def show_finding(self, finding: Finding, *, worse: bool) -> None:
        """Show how the finding now is; only what differs is touched."""
        if (finding, worse) == (self.finding, self.worse):
            return
        self.finding, self.worse = finding, worse
        self._tell()

    def open_with(self, body: QWidget) -> None:
        """Open in place, with more about the finding below it."""
        self.close_body()
        self._body, self.is_open = body, True
        self._words.addWidget(body)
        self.update()

    @property
    def body(self) -> QWidget | None:
        """What is open below it."""
        return self._body

    def close_body(self) -> None:
        """Close again; the widget that was below is given up."""
        body, self._body, self.is_open = self._body, None, False
        if body is not None:
            self._words.removeWidget(body)
            body.hide()
            body.deleteLater()
        self.update()

    def _tell(self) -> None:
        finding = self.finding
        self._mark.show_verdict("fine" if finding.accepted else finding.verdict)
        _say(self._sentence, finding.sentence)
        _say(self._detail, self._detail_html())
        _say(self._source, self._source_words())
        self._source.setVisible(bool(self._source.text()))
        set_property(self._sentence, "ink", "ink3" if finding.behind else "ink")
        self._mark.setEnabled(not finding.behind)
        self._show_gauge()
        self.setAccessibleName(f"{verdict_word(finding)}: {finding.sentence}")

    def _source_words(self) -> str:
        if self.finding.accepted:
            return f"accepted: {self.finding.accepted}"
        lead = "rule" if self.finding.limit is None else "limit from"
        return f"{lead}: {self.finding.limit_source}" if self.finding.limit_source else ""

    def _detail_html(self) -> str:
        finding = self.finding
        word = verdict_word(finding)
        ink: ColourName = "ink3" if finding.behind else finding.verdict
        if finding.accepted and not finding.behind:
            ink = "fine"
        worse = "new or worse by this change" if self.worse and not finding.behind else ""
        details = escape(" · ".join(part for part in (detail_words(finding), worse) if part))
        style = f"color:{self._look.hex(ink)};font-weight:600"
        return f'<span style="{style}">{word}</span>&nbsp; {details}'

    def _show_gauge(self) -> None:
        finding = self.finding
        scale = scale_of(finding)
        wanted = scale is not None and self.finding.verdict != "fine"
        if scale is not None and wanted and self._gauge is None:
            self._gauge = Gauge(self._look, scale, self.finding.verdict)
            self._words.insertWidget(2, self._gauge)
        if self._gauge is not None and scale is not None:
            self._gauge.show_figure(scale, self.finding.verdict)
        if self._gauge is not None:
            self._gauge.setVisible(wanted and not finding.behind)

    def _set_margins(self) -> None:
        side, above = self._look.px(self._side_margin), self._look.px(9)
        self._row.setContentsMargins(side, above, side, above)

    def _restyle(self) -> None:
        self._set_margins()
        _say(self._detail, self._detail_html())
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ask to be opened."""
        event.accept()
        is_here = self.rect().contains(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and is_here:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self.clicked.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the press, so that the release comes here as well."""
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Ask to be opened on Enter or the space bar."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.clicked.emit()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the frame of the keyboard."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take it away again."""
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the hairline below, or the frame of an open card."""
        painter = QPainter(self)
        if self.is_open:
            painter.fillRect(self.rect(), self._look.colour("card"))
        if self.is_open or self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        else:
            painter.setPen(QPen(self._look.colour("rule"), 1))
            side, y = self._look.px(self._side_margin), self.height() - 1
            painter.drawLine(side, y, self.width() - side, y)
        painter.end()


class UnansweredCard(QFrame):
    """Questions that have no answer yet, told together under the reason they share."""

    def __init__(
        self, look: Look, reason: str, asks: tuple[str, ...], parent: QWidget | None = None
    ) -> None:
        """Show the reason, and the questions that wait on it."""
        super().__init__(parent)
        self._look = look
        row = QHBoxLayout(self)
        row.setContentsMargins(look.px(22), look.px(9), look.px(22), look.px(9))
        row.setSpacing(look.px(9))
        row.addWidget(VerdictMark(look, "unknown"), 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(look.px(2))
        words.addWidget(label(f"Don't know yet, because {reason}.", "finding"))
        self._asks = label("", "small", "ink2")
        words.addWidget(self._asks)
        row.addLayout(words, 1)
        self.tell(asks)

    def tell(self, asks: tuple[str, ...]) -> None:
        """Show other questions."""
        _say(self._asks, " ".join(asks))


def _say(told: QLabel, words: str) -> None:
    if told.text() != words:
        told.setText(words)
