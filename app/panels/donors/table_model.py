"""A table of the workshop as rows for a view, upright or lying on its side."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from core.quantities import number
from core.workshop.table import Cell, Column, Table

AnyIndex = QModelIndex | QPersistentModelIndex
NOT_KNOWN = "don't know"
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class TableModel(QAbstractTableModel):
    """Shows a table; lying, its columns are rows and its first column stands over the others."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing yet."""
        super().__init__(parent)
        self.table: Table | None = None
        self.is_lying = False

    def show_table(self, table: Table, *, lying: bool) -> None:
        """Show a table."""
        if (table, lying) != (self.table, self.is_lying):
            self.beginResetModel()
            self.table, self.is_lying = table, lying
            self.endResetModel()

    def rowCount(self, parent: AnyIndex | None = None) -> int:
        """How many lines there are."""
        if self.table is None or (parent is not None and parent.isValid()):
            return 0
        return len(self.table.columns) - 1 if self.is_lying else len(self.table.rows)

    def columnCount(self, parent: AnyIndex | None = None) -> int:
        """How many columns there are."""
        if self.table is None or (parent is not None and parent.isValid()):
            return 0
        return len(self.table.rows) if self.is_lying else len(self.table.columns)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:  # noqa: ANN401 - Qt's
        """What stands over a column, or before a line."""
        if self.table is None or role != Qt.ItemDataRole.DisplayRole:
            return None
        is_over = orientation == Qt.Orientation.Horizontal
        if self.is_lying:
            return self._donor(section) if is_over else self._heading(section + 1)
        return self._heading(section) if is_over else None

    def _heading(self, number_of_column: int) -> str:
        assert self.table is not None
        columns = self.table.columns
        return columns[number_of_column].heading if number_of_column < len(columns) else ""

    def _donor(self, row: int) -> str:
        assert self.table is not None
        return str(self.table.rows[row][0]) if row < len(self.table.rows) else ""

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401 - Qt's
        """The words of a cell; figures stand at the right."""
        if self.table is None or not index.isValid():
            return None
        row, column = index.row(), index.column()
        if self.is_lying:
            row, column = column, row + 1
        what = self.table.columns[column]
        if role == Qt.ItemDataRole.DisplayRole:
            return cell_words(what, self.table.rows[row][column])
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if what.kind == "number" or self.is_lying else LEFT
        return None


def cell_words(column: Column, cell: Cell) -> str:
    """A cell as it reads on screen."""
    if cell is None:
        return NOT_KNOWN
    return cell if isinstance(cell, str) else number(cell, column.decimals or 0)
