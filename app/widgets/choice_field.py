"""One of a few fixed values, said in words."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget

from app.look.icons import paint_icon
from app.look.look import Look
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Binding, Draft, Drawn
from app.widgets.field import Field
from app.widgets.flat import box_sheet
from core.engine.address import Address
from core.workshop.field_shapes import Shape
from core.workshop.kinds import choice_words


class WordsBox(QComboBox):
    """A list of words to choose from; the wheel scrolls the panel, and changes nothing here."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty list."""
        super().__init__(parent)
        self._look = look
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)
        look.changed.connect(self.dress)
        self.dress()

    def dress(self) -> None:
        """Take the colours in force."""
        self.setStyleSheet(box_sheet(self._look))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the words, and a sign that there are others."""
        super().paintEvent(event)
        painter = QPainter(self)
        side = 14.0
        box = QRectF(self.width() - side - 2, (self.height() - side) / 2, side, side)
        paint_icon(painter, "fold", box, self._look.colour("ink2"))
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the panel."""
        event.ignore()


def choices_of(shape: Shape) -> list[object]:
    """The values a choice or a flag may have, don't know last where it may be."""
    values: list[object] = [True, False] if shape.what == "flag" else list(shape.choices)
    return [*values, None] if shape.optional else values


class ChoiceField(Field):
    """A choice among fixed values, or yes and no."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        at: Address | Binding,
        parent: QWidget | None = None,
        *,
        drawn: Drawn | None = None,
    ) -> None:
        """Show the choice at an address, or wait for one."""
        super().__init__(session, selection, look, at, parent, drawn=drawn)
        self.box = WordsBox(look, self)
        self.box.setProperty("role", "table")
        self.box.setAccessibleName(self.binding.words)
        self._values = choices_of(self.binding.shape)
        if isinstance(self.binding, Draft) and None not in self._values:
            self._values = [None, *self._values]
        for value in self._values:
            self.box.addItem(self._words(value))
        help_ = getattr(self.binding, "help", "")
        self.box.setToolTip(help_[:1].upper() + help_[1:])
        self.box.activated.connect(self._chosen)
        self.setFocusProxy(self.box)
        self.finish(self.box)

    def _words(self, value: object) -> str:
        if value is None and not self.binding.shape.optional:
            return "not chosen yet"
        return choice_words(value)

    def refresh(self) -> None:
        """Show the choice as it is now."""
        value = self.binding.value()
        self.box.setCurrentIndex(self._values.index(value) if value in self._values else -1)

    def choose(self, value: object) -> bool:
        """Keep a choice, or say why it is refused and show the old one; whether it was kept."""
        kept = self.offer(value)
        self.refresh()
        return kept

    def _chosen(self, number: int) -> None:
        if self._values[number] != self.binding.value():
            self.choose(self._values[number])
