"""Things: every kind as a table to look through, and a form for a new one."""

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QHBoxLayout,
    QHeaderView,
    QScrollArea,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.look.look import Look
from app.look.style import label
from app.panels.things.actions import NOT_MADE_BY_HAND
from app.panels.things.make_form import MakeForm
from app.panels.things.table import EVERYTHING, ThingsModel
from app.selection import Selection
from app.session import Session, State
from app.widgets.choice_field import WordsBox
from app.widgets.field_rows import context_of
from app.widgets.word_button import word_button
from app.widgets.words_line import WordsLine
from core.document.base import Ref
from core.document.project import KINDS
from core.workshop.kinds import kind_words, kinds_in_order

NO_ROWS = "There is none of these yet."
SIDE_BY_SIDE = 620
"""Logical pixels at scale 1 from which on a form stands beside the table."""

NO_MATCH = "Nothing here has all of these words."


class Things(QWidget):
    """Every thing of the car by kind; a row that is clicked is chosen everywhere."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show everything."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.context = context_of(session, selection, look)
        self.kinds = self._kind_chooser()
        self.search = WordsLine(look, self)
        self.search.setPlaceholderText("words to look for")
        self.search.setAccessibleName("words to look for")
        self.search.setProperty("role", "table")
        self.make = word_button("New…", "plain")
        self.model = ThingsModel(self)
        self.table = self._table()
        self.none = label(NO_ROWS, "lead", "ink2")
        self.form: MakeForm | None = None
        self.form_area = QScrollArea(self)
        self.form_area.setWidgetResizable(True)
        self.form_area.viewport().setAutoFillBackground(False)
        self.form_area.hide()
        self._lay_out()
        self._connect()
        self.refresh()

    def _kind_chooser(self) -> WordsBox:
        box = WordsBox(self._look, self)
        box.setAccessibleName("kind of thing")
        box.setProperty("role", "table")
        box.setMinimumContentsLength(18)
        box.setMaxVisibleItems(24)
        box.addItem("everything", EVERYTHING)
        for field in kinds_in_order():
            box.addItem(kind_words(KINDS[field]).many, field)
        return box

    def _table(self) -> QTableView:
        table = QTableView(self)
        table.setModel(self.model)
        table.setProperty("role", "table")
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setShowGrid(False)
        table.setAccessibleName("things")
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(self._look.px(26))
        head = table.horizontalHeader()
        head.setProperty("role", "small")
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        head.setStretchLastSection(True)
        head.setHighlightSections(False)
        head.setSectionsClickable(True)
        head.setSortIndicatorShown(True)
        head.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        head.sortIndicatorChanged.connect(self._sort)
        return table

    def _lay_out(self) -> None:
        px = self._look.px
        top = QHBoxLayout()
        top.setSpacing(px(8))
        top.addWidget(self.kinds)
        top.addWidget(self.search, 1)
        top.addWidget(self.make)
        box = QVBoxLayout(self)
        box.setContentsMargins(px(22), px(12), px(22), px(12))
        box.setSpacing(px(10))
        box.addLayout(top)
        box.addWidget(self.none)
        self._both = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._both.setSpacing(px(12))
        self._both.addWidget(self.table, 1)
        self._both.addWidget(self.form_area, 1)
        box.addLayout(self._both, 1)
        self.setFocusProxy(self.search)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what has changed out of sight."""
        super().showEvent(event)
        self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the form beside the table where there is room, else below it."""
        super().resizeEvent(event)
        is_wide = self.width() >= self._look.px(SIDE_BY_SIDE)
        way = QBoxLayout.Direction.LeftToRight if is_wide else QBoxLayout.Direction.TopToBottom
        self._both.setDirection(way)
        self._give_way()

    def _give_way(self) -> None:
        """Leave the room to the form where there is not enough for the table beside it."""
        narrow = self._both.direction() == QBoxLayout.Direction.TopToBottom
        hidden = self.form is not None and narrow
        self.table.setVisible(bool(self.model.rows) and not hidden)
        self.none.setVisible(not self.model.rows and not hidden)

    def _connect(self) -> None:
        self.kinds.currentIndexChanged.connect(self._kind_changed)
        self.search.textChanged.connect(self.refresh)
        self.search.escaped.connect(self.search.clear)
        self.search.returnPressed.connect(self.take_first)
        self.make.clicked.connect(lambda: self.begin(self.kind))
        self.table.selectionModel().selectionChanged.connect(self._rows_chosen)
        self._session.changed.connect(self._session_changed)
        self._selection.changed.connect(self._show_chosen)
        self._look.changed.connect(self._dress)
        self._dress()

    def _dress(self) -> None:
        panel, card = self._look.hex("panel"), self._look.hex("card")
        self.table.setStyleSheet(
            f"QHeaderView {{ background: {panel}; border: none; }}"
            f"QAbstractScrollArea::corner {{ background: {card}; border: none; }}"
        )

    @property
    def kind(self) -> str:
        """The kind shown, by its list in the document; empty for everything."""
        return str(self.kinds.currentData())

    # What it shows.

    def show_kind(self, field: str) -> None:
        """Show the table of a kind, by its list in the document; empty for everything."""
        self.search.clear()
        self.kinds.setCurrentIndex(self.kinds.findData(field))

    def look_for(self, words: str) -> None:
        """Show everything that has these words."""
        self.kinds.setCurrentIndex(self.kinds.findData(EVERYTHING))
        self.search.setText(words)

    def _kind_changed(self) -> None:
        self.close_form()
        head = self.table.horizontalHeader()
        head.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.refresh()
        self.table.resizeColumnsToContents()

    def refresh(self) -> None:
        """Show the things as they are now."""
        self.model.fill(self._session.state.document, self.kind, self.search.text())
        self.none.setText(NO_MATCH if self.search.text().strip() else NO_ROWS)
        self._give_way()
        made_by_hand = bool(self.kind) and KINDS[self.kind] not in NOT_MADE_BY_HAND
        self.make.setVisible(made_by_hand)
        if self.kind:
            self.make.setText(f"New {kind_words(KINDS[self.kind]).words}…")
        self._show_chosen()

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document and self.isVisible():
            self.refresh()

    def _sort(self, column: int, order: Qt.SortOrder) -> None:
        if column >= 0:
            self.model.sort(column, order)
            self._show_chosen()

    # What is chosen.

    def _show_chosen(self) -> None:
        ids = {ref.id for ref in self._selection.refs}
        wanted = QItemSelection()
        for number, row in enumerate(self.model.rows):
            if row.thing.id in ids:
                index = self.model.index(number, 0)
                wanted.select(index, index)
        flags = (
            QItemSelectionModel.SelectionFlag.ClearAndSelect
            | QItemSelectionModel.SelectionFlag.Rows
        )
        choosing = self.table.selectionModel()
        choosing.blockSignals(True)  # noqa: FBT003 - Qt's
        choosing.select(wanted, flags)
        choosing.blockSignals(False)  # noqa: FBT003 - Qt's
        self.table.viewport().update()

    def _rows_chosen(self) -> None:
        numbers = {index.row() for index in self.table.selectionModel().selectedRows()}
        refs = [self._side_kept(self.model.rows[number].ref) for number in sorted(numbers)]
        self._selection.choose(*refs)

    def take_first(self) -> None:
        """Choose the first row and take the keyboard to the table."""
        if self.model.rows:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
            self.table.selectRow(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Down goes from the words to look for into the table."""
        if event.key() == Qt.Key.Key_Down and self.search.hasFocus():
            self.take_first()
            event.accept()
        else:
            super().keyPressEvent(event)

    def _side_kept(self, ref: Ref) -> Ref:
        return next((one for one in self._selection.refs if one.id == ref.id), ref)

    # What is made.

    def begin(self, field: str) -> None:
        """Open the form for a new thing of a kind."""
        if field != self.kind:
            self.show_kind(field)
        self.close_form()
        self.form = MakeForm(self.context, field)
        self.form.made.connect(self._made)
        self.form.dropped.connect(self.close_form)
        self.form_area.setWidget(self.form)
        self.form_area.show()
        self._give_way()
        self.form.take_keyboard()

    def _made(self, ref: Ref) -> None:
        self.close_form()
        self.refresh()
        self._selection.choose(ref)

    def close_form(self) -> None:
        """Take the form away."""
        if self.form is not None:
            self.form_area.takeWidget()
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            self.form_area.hide()
            self._give_way()
            if self.isVisible():
                self.search.setFocus(Qt.FocusReason.OtherFocusReason)
