"""A small table into which toe is typed as it is read: height and toe, a row below for the next."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout, QWidget

from app.look.style import label
from app.session import Edit
from app.widgets.binding import Draft
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext
from app.widgets.number_field import NumberField
from app.widgets.word_button import word_button
from core.document.base import Ref
from core.document.boards import ToeBoard, ToeReading
from core.document.errors import JigplateError
from core.edits.boards import add_reading, remove_reading
from core.engine.address import Address
from core.workshop.field_shapes import field_shapes
from core.workshop.kinds import WORDS

NAMES = ("height", "toe_in_deg")


class ReadFigure(NumberField):
    """A figure that was read: where it comes from is plain, so no tag stands beside it."""

    def _show_source(self, value: object) -> None:
        super()._show_source(value)
        self.tag.hide()
        self.line.line = "rest"
        self.line.update()


class ReadingsTable(QWidget):
    """The readings of one round; made anew when one comes or goes."""

    grown = Signal()
    """A reading came or went."""

    def __init__(self, context: FieldContext, board: str, parent: QWidget | None = None) -> None:
        """Show the readings of a round."""
        super().__init__(parent)
        self._context, self._board = context, board
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.fields: list[tuple[ReadFigure, ReadFigure]] = []
        self.out: list[QPushButton] = []
        self.next: tuple[ReadFigure, ReadFigure] | None = None
        self.sentence = Sentence(context.look, self)
        self._inner: QWidget | None = None
        self._column.addWidget(self.sentence)
        self._count = -1

    def tell(self, board: ToeBoard) -> None:
        """Show how things are now."""
        if len(board.readings) != self._count:
            self._count = len(board.readings)
            self._make()

    def _make(self) -> None:
        if self._inner is not None:
            self._inner.hide()
            self._column.removeWidget(self._inner)
            self._inner.deleteLater()
        inner = self._inner = QWidget(self)
        grid = QGridLayout(inner)
        px = self._context.look.px
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(px(10))
        grid.setVerticalSpacing(px(2))
        grid.setColumnStretch(3, 1)
        for column, name in enumerate(NAMES):
            grid.addWidget(label(WORDS[ToeReading].fields[name].words, "small", "ink2"), 0, column)
        self.fields, self.out = [], []
        for number in range(self._count):
            self._add_row(grid, number)
        self._add_next(grid, self._count + 1)
        self._column.insertWidget(0, inner)

    def _add_row(self, grid: QGridLayout, number: int) -> None:
        context, ref = self._context, Ref(self._board)
        made = [
            ReadFigure(
                context.session,
                context.selection,
                context.look,
                Address(ref, f"readings.{number}.{name}"),
                drawn=context.drawn,
            )
            for name in NAMES
        ]
        for column, field in enumerate(made):
            grid.addWidget(field, number + 1, column, Qt.AlignmentFlag.AlignTop)
        out = word_button("take out")
        out.setAccessibleName(f"take out reading {number + 1}")
        out.clicked.connect(lambda _=False: self._take_out(number))
        grid.addWidget(out, number + 1, 2)
        self.fields.append((made[0], made[1]))
        self.out.append(out)

    def _add_next(self, grid: QGridLayout, row: int) -> None:
        context, shapes = self._context, field_shapes(ToeReading)
        made: list[ReadFigure] = []
        for column, name in enumerate(NAMES):
            words = WORDS[ToeReading].fields[name]
            draft = Draft(shapes[name], f"next {words.words}", words.unit, words.help)
            field = ReadFigure(context.session, context.selection, context.look, draft)
            field.kept.connect(self._maybe_add, Qt.ConnectionType.QueuedConnection)
            grid.addWidget(field, row, column, Qt.AlignmentFlag.AlignTop)
            made.append(field)
        grid.addWidget(label("next", "small", "ink2"), row, 2)
        self.next = (made[0], made[1])

    def _maybe_add(self) -> None:
        """Write a reading down once both its figures are kept, and both fields are done with."""
        assert self.next is not None
        height, toe = (field.binding.value() for field in self.next)
        if not (isinstance(height, float) and isinstance(toe, float)):
            return
        reading, board = ToeReading(height=height, toe_in_deg=toe), self._board
        if self._try("Write down a reading of toe", lambda d: add_reading(d, board, reading)):
            self.next[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _take_out(self, number: int) -> None:
        board = self._board
        self._try("Take out a reading of toe", lambda d: remove_reading(d, board, number))

    def _try(self, words: str, edit: Edit) -> bool:
        try:
            self._context.session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            return False
        self.sentence.clear()
        self.grown.emit()
        return True
