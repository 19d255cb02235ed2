"""One station of the marked lath: a piece of the lath, its mark, the step and how far it is."""

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFontMetrics,
    QKeyEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from app.look.tokens import ColourName
from core.study.steps import StepState

LEAST_HEIGHT = 62.0
LATH_LEFT, LATH_WIDTH = 16.0, 14.0
MARK_DOWN = 19.0  # from the top of the station to the middle of its mark
WORDS_LEFT = 46.0
FOLDED_BELOW = 110
"""Logical pixels at scale 1: a narrower lath shows marks and numbers alone."""

NUMBER_LEFT = 38.0
TICK = 7.0
POINT = 8.0  # of the tag hung on the lath
_WRAPPED = Qt.TextFlag.TextWordWrap.value | Qt.AlignmentFlag.AlignTop.value


class Station(QAbstractButton):
    """A step on the lath; a click or Enter brings it to the front, Up and Down walk on."""

    walked = Signal(int)

    def __init__(self, look: Look, state: StepState, parent: QWidget | None = None) -> None:
        """Show a step."""
        super().__init__(parent)
        self._look = look
        self.state = state
        self.is_current = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._name()
        look.changed.connect(self._refit)

    def tell(self, state: StepState, *, is_current: bool) -> None:
        """Show how far the step is now."""
        if (state, is_current) != (self.state, self.is_current):
            if state.words != self.state.words:
                self.updateGeometry()
            self.state, self.is_current = state, is_current
            self._name()
            self.update()

    def _name(self) -> None:
        state = self.state
        self.setAccessibleName(f"{state.number} {state.title}: {state.words}")
        self.setToolTip(f"{state.number} {state.title}\n{state.words}")

    def sizeHint(self) -> QSize:
        """As high as its words want at the width it has."""
        wide = self.width() or self._look.px(150)
        return QSize(self._look.px(150), self.heightForWidth(wide))

    def hasHeightForWidth(self) -> bool:
        """Whether a narrow lath makes it higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Room for all words, and never less than a usual station."""
        if width < self._look.px(FOLDED_BELOW):
            return self._look.px(LEAST_HEIGHT)
        box = self._words_box(width, 10_000)
        title = QFontMetrics(self._look.font("head")).boundingRect(box, _WRAPPED, self._title())
        words = QFontMetrics(self._look.font("small")).boundingRect(box, _WRAPPED, self.state.words)
        wanted = self._look.px(9) + title.height() + 1 + words.height() + self._look.px(9)
        return max(wanted, self._look.px(LEAST_HEIGHT))

    def _words_box(self, width: int, height: int) -> QRect:
        left = self._look.px(WORDS_LEFT)
        return QRect(left, self._look.px(9), width - left - self._look.px(12), height)

    def _title(self) -> str:
        return f"{self.state.number} {self.state.title}"

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the lath, or choose."""
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if step is not None:
            self.walked.emit(step)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the station."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_lath(painter)
        is_folded = self.width() < self._look.px(FOLDED_BELOW)
        if (self.is_current or self.hasFocus() or self.underMouse()) and not is_folded:
            self._paint_tag(painter)
        self._paint_mark(painter)
        if is_folded:
            self._paint_number(painter)
        else:
            self._paint_words(painter)
        painter.end()

    def _paint_lath(self, painter: QPainter) -> None:
        scale, height = self._look.scale, self.height()
        left, width = LATH_LEFT * scale, LATH_WIDTH * scale
        painter.fillRect(QRectF(left, 0, width, height), self._look.colour("lath"))
        painter.setPen(QPen(self._look.colour("lath_edge"), 1))
        for x in (left, left + width):
            painter.drawLine(QPointF(x, 0), QPointF(x, height))
        count = max(int(height / (TICK * scale) / 5) * 5, 5)  # longer ticks line up at the joins
        for tick in range(count):
            y = tick * height / count + 0.5
            long = width * (0.55 if tick % 5 == 0 else 0.3)
            painter.drawLine(QPointF(left + width - long, y), QPointF(left + width, y))
        y = MARK_DOWN * scale
        painter.drawLine(QPointF(left - 4 * scale, y), QPointF(left + width + 4 * scale, y))

    def _paint_tag(self, painter: QPainter) -> None:
        scale = self._look.scale
        left, right = (WORDS_LEFT - 13) * scale, self.width() - 6.0
        top, bottom, point = 1.5, self.height() - 4.0, POINT * scale
        outline = QPolygonF(
            [
                QPointF(left + point, top),
                QPointF(right, top),
                QPointF(right, bottom),
                QPointF(left + point, bottom),
                QPointF(left, bottom - point),
                QPointF(left, top + point),
            ]
        )
        chosen = self.is_current or self.hasFocus()
        pen = QPen(self._look.colour("sel" if chosen else "hover"), 2 if chosen else 1)
        if self.hasFocus() and not self.is_current:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(self._look.colour("card"))
        painter.drawPolygon(outline)
        if self.hasFocus() and self.is_current:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self._look.colour("sel"), 1))
            painter.drawPolygon(_inset(outline))

    def _paint_mark(self, painter: QPainter) -> None:
        painter.save()
        scale = self._look.scale
        painter.translate((LATH_LEFT + LATH_WIDTH / 2) * scale, MARK_DOWN * scale)
        painter.scale(scale, scale)
        painter.setBrush(self._look.colour("page"))
        _MARKS[self.state.state](painter, self._look)
        painter.restore()

    def _paint_words(self, painter: QPainter) -> None:
        box = self._words_box(self.width(), self.height())
        painter.setFont(self._look.font("head"))
        painter.setPen(self._look.colour("sel" if self.is_current else "ink"))
        used = painter.drawText(box, _WRAPPED, self._title())
        ink: ColourName = "ink3" if self.state.behind else "ink2"
        painter.setFont(self._look.font("small"))
        painter.setPen(self._look.colour(ink))
        room = box.adjusted(0, used.height() + 1, 0, 0)
        painter.setClipRect(self.rect())
        painter.drawText(room, _WRAPPED, self.state.words)

    def _paint_number(self, painter: QPainter) -> None:
        """The number alone; of the step in front, and where the keyboard is, underlined."""
        px = self._look.px
        painter.setFont(self._look.font("head"))
        painter.setPen(self._look.colour("sel" if self.is_current else "ink"))
        box = QRect(px(NUMBER_LEFT), px(MARK_DOWN) - px(12), px(16), px(24))
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, str(self.state.number))
        if self.is_current or self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawLine(box.left(), box.bottom(), box.right() - px(6), box.bottom())

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


def _inset(outline: QPolygonF) -> QPolygonF:
    box = outline.boundingRect()
    centre, shrink = box.center(), 1 - 8 / max(box.width(), 1.0)
    drop = 1 - 8 / max(box.height(), 1.0)
    return QPolygonF(
        [
            QPointF(centre.x() + (p.x() - centre.x()) * shrink,
                    centre.y() + (p.y() - centre.y()) * drop)
            for p in outline.toList()
        ]
    )  # fmt: skip


def _paint_settled(painter: QPainter, look: Look) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("ink"))
    painter.drawEllipse(QPointF(0, 0), 8, 8)
    painter.setPen(QPen(look.colour("page"), 1.8))
    tick = QPainterPath(QPointF(-3.6, 0.2))
    tick.lineTo(-1.0, 2.8)
    tick.lineTo(3.6, -2.6)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(tick)


def _paint_open(painter: QPainter, look: Look) -> None:
    painter.setPen(QPen(look.colour("sel"), 2))
    painter.drawEllipse(QPointF(0, 0), 7.5, 7.5)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("sel"))
    painter.drawEllipse(QPointF(0, 0), 2.6, 2.6)


def _paint_waiting(painter: QPainter, look: Look) -> None:
    pen = QPen(look.colour("unknown"), 1.6)
    pen.setDashPattern([2.0, 1.6])
    painter.setPen(pen)
    painter.drawEllipse(QPointF(0, 0), 7.5, 7.5)


_MARKS = {"settled": _paint_settled, "open": _paint_open, "waiting": _paint_waiting}
