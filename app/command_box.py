"""The box in which a few letters find a thing of the car or something to do."""

from collections.abc import Iterator
from typing import cast

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QFrame,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from app.look.look import Look
from app.look.style import label
from app.menus import Bound
from app.search import Entry, ranked
from app.selection import Selection
from app.session import Session
from app.trade_words import also
from core.document.base import Ref
from core.document.lookup import Lookup, entities, kind_of, sides

WIDTH, ROWS = 480, 10
MOST_FOUND = 80
"""Rows at most; a word such as «new» fits every kind of thing that can be made."""

ENTRY = Qt.ItemDataRole.UserRole


class CommandBox(QFrame):
    """Opens over the window; Enter chooses the thing or does what was found, Escape closes."""

    ran = Signal(str)
    """The id of an action that was chosen here."""
    chose = Signal(object)
    """The Ref of a thing that was chosen here."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        bound: Bound,
        parent: QWidget,
    ) -> None:
        """Find among the things of a session and the actions of a window."""
        super().__init__(parent)
        self._session = session
        self._selection = selection
        self._look = look
        self._over = parent
        self._bound = bound
        self._entries: list[Entry] = []
        self._back_to: QWidget | None = None
        self.setProperty("ground", "card")
        self.setAccessibleName("Find anything")
        self.field = QLineEdit()
        self.field.setPlaceholderText("a thing of the car, or something to do")
        self.field.setAccessibleName("Find anything")
        self.field.textChanged.connect(self._refresh)
        self.field.installEventFilter(self)
        self.rows = QListWidget()
        self.rows.setUniformItemSizes(True)
        self.rows.setItemDelegate(_Row(look, self.rows))
        self.rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.rows.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.rows.itemClicked.connect(self._take)
        self.hint = label("", "small", "ink2")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 10, 10, 8)
        layout.setSpacing(6)
        for widget in (self.field, self.rows, self.hint):
            layout.addWidget(widget)
        self.hide()

    def open(self) -> None:
        """Show the box, empty, with the keyboard in it."""
        self._back_to = cast("QWidget | None", self.window().focusWidget())
        self._entries = [*self._actions(), *self._things()]
        self.field.clear()
        self._refresh()
        self._place()
        self.show()
        self.raise_()
        self.field.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot()
    def shut(self) -> None:
        """Close it and give the keyboard back."""
        if self.isHidden():
            return
        self.hide()
        if self._back_to is not None:
            self._back_to.setFocus(Qt.FocusReason.OtherFocusReason)
        self._back_to = None

    def _place(self) -> None:
        window = self._over
        width = min(self._look.px(WIDTH), window.width() - 40)
        height = min(self._look.px(ROWS * 30 + 84), window.height() - self._look.px(80))
        left = (window.width() - width) // 2
        self.setGeometry(left, self._look.px(52), width, height)

    def _actions(self) -> Iterator[Entry]:
        for action in self._bound.records:
            if action.id != "find":
                yield Entry(
                    action.name.rstrip("…"),
                    f"{action.menu}, {action.keys}" if action.keys else action.menu,
                    (*action.also, *also(action.name), action.tip),
                    action,
                )

    def _things(self) -> Iterator[Entry]:
        document = self._session.state.document
        lookup = Lookup(document)
        for thing in entities(document):
            kind = kind_of(thing)
            others = (*also(kind), *also(thing.name.replace("_", " ")), thing.id)
            for ref in sides(thing):
                yield Entry(lookup.label(ref), kind, others, ref)

    @Slot()
    def _refresh(self) -> None:
        found = ranked(self._entries, self.field.text(), MOST_FOUND)
        self.rows.clear()
        for entry in found:
            item = QListWidgetItem(entry.name, self.rows)
            item.setData(ENTRY, entry)
            item.setToolTip(self._tip(entry))
        if found:
            self.rows.setCurrentRow(0)
        typed = self.field.text().strip()
        nothing = f"Nothing in this car and nothing to do is called «{typed}»."
        usual = "Up and Down to walk, Enter to choose, Escape to close"
        self.hint.setText(usual if found else nothing)

    def _tip(self, entry: Entry) -> str:
        return entry.kind if isinstance(entry.target, Ref) else str(entry.target.tip)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Walk the rows with the keyboard while it is in the field."""
        if watched is self.field and event.type() == QEvent.Type.KeyPress:
            assert isinstance(event, QKeyEvent)
            return self._key(Qt.Key(event.key()))
        if watched is self.field and event.type() == QEvent.Type.FocusOut:
            focus = cast("QWidget | None", self.window().focusWidget())
            if focus is not None and focus is not self.field and not self.isAncestorOf(focus):
                self.hide()
        return False

    def _key(self, key: Qt.Key) -> bool:
        if key == Qt.Key.Key_Escape:
            self.shut()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.rows.currentRow() >= 0:
                self._take(self.rows.currentItem())
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            by = 1 if key == Qt.Key.Key_Down else -1
            row = self.rows.currentRow() + by
            self.rows.setCurrentRow(min(max(row, 0), self.rows.count() - 1))
        else:
            return False
        return True

    @Slot(QListWidgetItem)
    def _take(self, item: QListWidgetItem) -> None:
        entry: Entry = item.data(ENTRY)
        self.shut()
        if isinstance(entry.target, Ref):
            self._selection.choose(entry.target)
            self.chose.emit(entry.target)
        else:
            action = self._bound[entry.target.id]
            if action.isEnabled():
                action.trigger()
            self.ran.emit(entry.target.id)


class _Row(QStyledItemDelegate):
    """A row: the name at the left, what it is at the right."""

    def __init__(self, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw the row by the list's own style, then its kind over it."""
        super().paint(painter, option, index)
        entry: Entry = index.data(ENTRY)
        painter.save()
        painter.setFont(self._look.font("small"))
        painter.setPen(self._look.colour("ink2"))
        box: QRect = option.rect.adjusted(0, 0, -self._look.px(10), 0)
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(box, flags, entry.kind)
        painter.restore()
