"""A card that carries a donor's corner over: what is asked, what to know first, one button."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.panels.donors.asked_fields import AskedFields
from app.panels.donors.warned import Warned
from app.panels.donors.words import told
from app.widgets.field import Sentence
from app.widgets.field_rows import FieldContext
from app.widgets.word_button import word_button

BEFORE_IT = "To know before it comes over"


class CarryForm(QFrame):
    """Says live what would be wrong; the button asks for it."""

    wanted = Signal()

    def __init__(self, context: FieldContext, parent: QWidget | None = None) -> None:
        """Ask for nothing yet."""
        super().__init__(parent)
        look = context.look
        self.setProperty("ground", "card")
        self.fields = AskedFields(context, self)
        self.head = label(BEFORE_IT, "head")
        self.warned = Warned(look, self)
        self.sentence = Sentence(look, self)
        self.carry = word_button("Carry it over", "filled")
        self.carry.clicked.connect(self._press)
        box = QVBoxLayout(self)
        box.setContentsMargins(look.px(10), look.px(8), look.px(10), look.px(8))
        box.setSpacing(look.px(6))
        box.addWidget(label("Carry over", "head"))
        for widget in (self.fields, self.head, self.warned, self.sentence):
            box.addWidget(widget)
        row = QHBoxLayout()
        row.addWidget(self.carry)
        row.addStretch(1)
        box.addLayout(row)
        self.head.hide()

    def tell(self, sentences: Sequence[str]) -> None:
        """Say what to know before it is carried over."""
        self.sentence.clear()
        self._warn(sentences)

    def refuse(self, words: str) -> None:
        """Say why it cannot be carried over."""
        self._warn(())
        self.sentence.say(told(words))

    def note(self, words: str) -> None:
        """Say something that is not wrong."""
        self._warn(())
        self.sentence.say(words, ink="ink2")

    def _warn(self, sentences: Sequence[str]) -> None:
        self.head.setVisible(bool(sentences))
        self.warned.tell([told(words) for words in sentences])

    def _press(self) -> None:
        if self.fields.settle():
            self.wanted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter carries it over."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._press()
            event.accept()
        else:
            super().keyPressEvent(event)
