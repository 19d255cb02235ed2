"""Things as rows and their main fields as columns."""

from collections.abc import Iterable
from typing import Any, NamedTuple

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from app.widgets.summaries import value_words
from core.document.base import Entity, Ref
from core.document.lookup import Lookup, entities, kind_of
from core.document.paths import NoSuchPathError, value_at
from core.document.project import KINDS, Document
from core.workshop.kinds import field_words, kind_words

AnyIndex = QModelIndex | QPersistentModelIndex
EVERYTHING = ""
"""In place of a kind: all of them."""


class Row(NamedTuple):
    """A thing with the words of its cells."""

    thing: Entity
    cells: tuple[str, ...]

    @property
    def ref(self) -> Ref:
        """The thing; of a pair the left piece."""
        return Ref(self.thing.id, "left" if self.thing.pair else "one")


def columns_of(kind: str) -> tuple[str, ...]:
    """Heads of the columns for a kind, or for all of them."""
    if kind == EVERYTHING:
        return ("name", "kind", "sides", "note")
    paths = kind_words(KINDS[kind]).columns
    return (*_first_columns(kind), *(field_words(KINDS[kind], path).words for path in paths))


def _first_columns(kind: str) -> tuple[str, ...]:
    """Columns before those of the kind; no sides where there can be no pair."""
    return ("name", "sides") if KINDS[kind].may_be_pair else ("name",)


def rows_of(document: Document, kind: str, typed: str = "") -> list[Row]:
    """The things of a kind in whose cells every word that was typed stands."""
    lookup = Lookup(document)
    things: Iterable[Entity] = entities(document) if kind == EVERYTHING else getattr(document, kind)
    rows = (Row(thing, _cells(lookup, thing, kind)) for thing in things)
    words = typed.casefold().split()
    return [row for row in rows if _has(row, words)]


def _has(row: Row, words: list[str]) -> bool:
    text = " ".join((*row.cells, kind_of(row.thing), row.thing.note)).casefold()
    return all(word in text for word in words)


def _cells(lookup: Lookup, thing: Entity, kind: str) -> tuple[str, ...]:
    sides = "left and right" if thing.pair else ""
    if kind == EVERYTHING:
        return (thing.name, kind_of(thing), sides, thing.note)
    paths = kind_words(type(thing)).columns
    first = (thing.name, sides)[: len(_first_columns(kind))]
    return (*first, *(value_words(lookup, thing, path) for path in paths))


class ThingsModel(QAbstractTableModel):
    """Rows of one kind for a table."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold no rows yet."""
        super().__init__(parent)
        self.kind = EVERYTHING
        self.heads: tuple[str, ...] = columns_of(EVERYTHING)
        self.rows: list[Row] = []

    def fill(self, document: Document, kind: str, typed: str) -> None:
        """Show the things of a kind; cells alone change where the things are the same."""
        rows = rows_of(document, kind, typed)
        same = kind == self.kind and [r.thing.id for r in rows] == [r.thing.id for r in self.rows]
        if same:
            self.rows = rows
            if rows:
                last = self.index(len(rows) - 1, len(self.heads) - 1)
                self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.kind, self.heads, self.rows = kind, columns_of(kind), rows
        self.endResetModel()

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Put the rows in the order of a column: numbers by size, words by letters."""
        self.beginResetModel()
        falling = order == Qt.SortOrder.DescendingOrder
        self.rows.sort(key=lambda row: self._sort_key(row, column), reverse=falling)
        self.endResetModel()

    def _sort_key(self, row: Row, column: int) -> tuple[int, float, str]:
        own = 0 if self.kind == EVERYTHING else len(_first_columns(self.kind))
        if self.kind != EVERYTHING and column >= own:
            path = kind_words(KINDS[self.kind]).columns[column - own]
            try:
                value = value_at(row.thing, path)
            except NoSuchPathError:
                value = None
            if isinstance(value, int | float):
                return (0, float(value), "")
        text = row.cells[column].casefold()
        return (1 if text else 2, 0.0, text)

    def rowCount(self, parent: AnyIndex | None = None) -> int:
        """How many things are shown."""
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def columnCount(self, parent: AnyIndex | None = None) -> int:
        """How many columns there are."""
        return 0 if parent is not None and parent.isValid() else len(self.heads)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:  # noqa: ANN401 - Qt's
        """The head of a column."""
        shown = role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal
        return self.heads[section] if shown and section < len(self.heads) else None

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401 - Qt's
        """The words of a cell."""
        if not index.isValid():
            return None
        cell = self.rows[index.row()].cells[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return cell
        return cell if role == Qt.ItemDataRole.ToolTipRole and cell else None
