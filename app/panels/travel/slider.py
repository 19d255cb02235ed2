"""One thing that can be moved: its name, its rule, and the figure that can be typed."""

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QLabel, QLineEdit

from app.look.look import Look
from app.look.style import label
from app.panels.travel.measures import Measure, Span
from app.panels.travel.rule import SteelRule
from core.quantities import QuantityError

DONT_KNOW = "don't know"


class Slider(QObject):
    """A rule and its figure, to be laid out by whoever makes it.

    Attributes:
        moved: the value asked for, in mm or degrees, within what the rule allows.
        refused: why what was typed is not taken, or not as far.
    """

    moved = Signal(float)
    refused = Signal(str)

    def __init__(self, look: Look, name: str, measure: Measure, parent: QObject) -> None:
        """Make one of which nothing is known yet."""
        super().__init__(parent)
        self._name, self._measure = name, measure
        self.rule = SteelRule(look, name, measure)
        self.rule.moved.connect(self.moved)
        self.figure = QLineEdit()
        self.figure.setAccessibleName(f"{name}, {measure.unit}")
        self.figure.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.figure.setProperty("role", "field_strong")
        self.figure.editingFinished.connect(self._typed)
        self.unknown = _plain(label(DONT_KNOW, "small", "ink2"))

    def made_name(self) -> QLabel:
        """Its name, to stand before the rule; for whoever has a place for it."""
        made = _plain(label(self._name, "small", "ink2"))
        made.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        return made

    def know(self, span: Span | None, why: str = "", told: str = "") -> None:
        """Say how far it goes, and what is told of that; or why it is not known."""
        self.rule.know(span)
        self.figure.setVisible(span is not None)
        self.unknown.setVisible(span is None)
        self.rule.setToolTip(why if span is None else told)
        self.unknown.setToolTip(why if span is None else "")
        self.unknown.setAccessibleDescription(why if span is None else "")

    def stand_at(self, value: float) -> None:
        """Show a value."""
        self.rule.stand_at(value)
        self.figure.setText(self._measure.words(value))

    def _typed(self) -> None:
        if not self.figure.isModified():
            return
        self.figure.setModified(False)
        try:
            wanted = self._measure.read(self.figure.text())
        except QuantityError as error:
            self.refused.emit(str(error))
            return
        held = self.rule.held(wanted)
        self.moved.emit(held)
        self.stand_at(held)
        if held != wanted:
            self.refused.emit(f"{self._name} goes to {self._measure.words(held)} and no further")


def _plain(words: QLabel) -> QLabel:
    words.setWordWrap(False)
    return words
