"""What is read at each wheel where it stands: camber, toe, steer, and what the damper has left."""

from typing import NamedTuple

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QHelpEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from app.look.look import Look
from app.look.tokens import ColourName
from core.quantities import format_signed, number
from core.scene.posed import PosedCar, PosedCorner, UnknownWheel
from core.scene.wheel_figures import WheelFigures

LINE = 17.0
NAME = 60.0
COLUMNS = (("camber", 46.0), ("toe in", 52.0), ("turned", 48.0), ("damper left", 70.0))
"""What stands in a column, and its width at scale 1."""

TURNED = 2
"""The column that is left out while nothing is steered."""


class Row(NamedTuple):
    """One wheel in words.

    Attributes:
        name: which.
        cells: a figure for each column, or nothing.
        told: all of it as it is read aloud and told when asked.
        why: why nothing is known, or empty.
        is_past: whether the damper would have to be longer or shorter than it can.
    """

    name: str
    cells: tuple[str, ...]
    told: str
    why: str = ""
    is_past: bool = False


def rows_of(car: PosedCar) -> tuple[Row, ...]:
    """Return a row for each wheel."""
    return tuple(_row(corner) for corner in car.corners)


def _row(corner: PosedCorner | UnknownWheel) -> Row:
    if isinstance(corner, UnknownWheel):
        told = f"{corner.name}: don't know, because {corner.why}"
        return Row(corner.name, (), told, f"don't know, because {corner.why}")
    found, name = corner.figures, corner.standing.name
    camber, toe = _angle(found.camber_deg), _angle(found.toe_in_deg)
    turned = "" if found.steer_deg is None else _turned(found.steer_deg)
    told = f"{name}: camber {camber}, toe in {toe}"
    told += f", turned {turned}" if turned else ""
    told += f"; {_damper_told(found)}"
    told += f"; {corner.standing.stopped}" if corner.standing.stopped else ""
    return Row(name, (camber, toe, turned, _damper(found)), told, "", _is_past(found))


def _angle(angle_deg: float) -> str:
    return f"{format_signed(angle_deg, 2)}°"


def _turned(steer_deg: float) -> str:
    words = number(abs(steer_deg), 1)
    if float(words) == 0.0:
        return "0.0°"
    return f"{words}° {'L' if steer_deg > 0.0 else 'R'}"


def _damper(found: WheelFigures) -> str:
    """How much is left at the end that is nearer, mm; both are told when asked."""
    if found.damper is None:
        return "don't know"
    if found.to_close is None or found.to_open is None:
        return f"{number(found.damper, 1)} long"
    left, way = min((found.to_close, "shut"), (found.to_open, "open"))
    return f"{number(left, 1)} {way}"


def _damper_told(found: WheelFigures) -> str:
    if found.damper is None:
        return f"damper: don't know, because {found.no_damper}"
    told = f"damper {number(found.damper, 1)} mm long"
    for end, way in ((found.to_close, "closes"), (found.to_open, "opens")):
        more = f"{way} by {number(end, 1)} more" if end is not None and end >= 0.0 else ""
        past = f"{number(-end, 1)} past where it {way}" if end is not None and end < 0.0 else ""
        told += f", {more or past or f'not known how far it {way}'}"
    return told


def _is_past(found: WheelFigures) -> bool:
    return any(end is not None and end < 0.0 for end in (found.to_close, found.to_open))


class WheelTable(QWidget):
    """A row for each wheel; painted, so that a drag lays nothing out anew."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self._look = look
        self.rows: tuple[Row, ...] = ()
        self.is_steered = False
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        look.changed.connect(self._refit)

    def tell(self, rows: tuple[Row, ...], *, is_steered: bool) -> None:
        """Show these rows; how far wheels are turned only while the rack is moved."""
        if (rows, is_steered) == (self.rows, self.is_steered):
            return
        is_other_size = (len(rows), is_steered) != (len(self.rows), self.is_steered)
        self.rows, self.is_steered = rows, is_steered
        self.setAccessibleName("at the wheels: " + ". ".join(row.told for row in rows))
        if is_other_size:
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Room for every row."""
        wide = NAME + sum(COLUMNS[at][1] for at in self._shown())
        return QSize(self._look.px(wide), self._look.px(LINE * (len(self.rows) + 1)))

    def minimumSizeHint(self) -> QSize:
        """As wide; a row may be cut off."""
        return QSize(self.sizeHint().width(), self._look.px(2 * LINE))

    def _shown(self) -> tuple[int, ...]:
        return tuple(at for at in range(len(COLUMNS)) if at != TURNED or self.is_steered)

    def event(self, event: QEvent) -> bool:
        """Tell all of a row when asked."""
        if isinstance(event, QHelpEvent):
            at = int(event.pos().y() / (LINE * self._look.scale)) - 1
            if 0 <= at < len(self.rows):
                QToolTip.showText(event.globalPos(), self.rows[at].told, self)
                return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rows."""
        if not self.rows:
            return
        painter = QPainter(self)
        painter.setFont(self._look.font("small"))
        painter.setPen(self._look.colour("ink2"))
        for at, box in self._boxes(0):
            painter.drawText(box, _RIGHT, COLUMNS[at][0])
        for index, row in enumerate(self.rows, 1):
            self._paint_row(painter, index, row)
        painter.end()

    def _paint_row(self, painter: QPainter, index: int, row: Row) -> None:
        scale = self._look.scale
        top, high = LINE * scale * index, LINE * scale
        painter.setPen(self._look.colour("ink2"))
        painter.drawText(QRectF(0, top, NAME * scale, high), _LEFT, row.name)
        if row.why:
            room = QRectF(NAME * scale, top, self.width() - NAME * scale, high)
            metrics = QFontMetricsF(painter.font())
            words = metrics.elidedText(row.why, Qt.TextElideMode.ElideRight, room.width())
            painter.drawText(room, _LEFT, words)
            return
        for at, box in self._boxes(index):
            ink: ColourName = "no" if row.is_past and at == len(COLUMNS) - 1 else "ink"
            painter.setPen(self._look.colour(ink))
            painter.drawText(box, _RIGHT, row.cells[at])

    def _boxes(self, index: int) -> list[tuple[int, QRectF]]:
        scale, x = self._look.scale, NAME * self._look.scale
        found: list[tuple[int, QRectF]] = []
        for at in self._shown():
            wide = COLUMNS[at][1] * scale
            found.append((at, QRectF(x, LINE * scale * index, wide, LINE * scale)))
            x += wide
        return found

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
